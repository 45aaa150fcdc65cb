//! Lists of zones as cells under fixed headings, as the window's sheet holds them: read, pasted, taken to other units.

#![expect(clippy::unwrap_used, reason = "a test stops where what it needs is missing")]

use headwise::engine::units::Units;
use headwise::file::table::{
    Pasted, TableError, TableFault, ZONE_FIELDS, ZoneField, cells_in_units, pasted, read_zone_cells, read_zones,
};

/// Rows of cells; each names its fields.
fn cells(rows: &[&[(ZoneField, &str)]]) -> Vec<Vec<String>> {
    let row = |filled: &&[(ZoneField, &str)]| {
        let text = |field: &ZoneField| filled.iter().find(|(other, _)| other == field).map_or("", |(_, text)| *text);
        ZONE_FIELDS.iter().map(|field| text(field).to_owned()).collect()
    };
    rows.iter().map(row).collect()
}

/// A row that has what every zone needs.
fn hall(load: &str, branch: &str) -> Vec<Vec<String>> {
    cells(&[&[
        (ZoneField::Name, "Hall"),
        (ZoneField::Load, load),
        (ZoneField::Emitter, "radiator"),
        (ZoneField::Loss, "8"),
        (ZoneField::Branch, branch),
    ]])
}

fn faults(cells: &[Vec<String>]) -> Vec<TableFault> {
    match read_zone_cells(cells, &Units::si()).unwrap_err() {
        TableError::Faults { faults, .. } => faults,
        other => panic!("{other}"),
    }
}

fn place(field: ZoneField) -> usize {
    ZONE_FIELDS.iter().position(|other| *other == field).unwrap()
}

fn filled(found: &Pasted) -> Vec<Vec<String>> {
    found.rows.iter().map(|row| row.iter().map(|cell| cell.clone().unwrap_or_default()).collect()).collect()
}

#[test]
fn cells_are_read_as_the_same_list_in_a_file_is() {
    for (list, units) in [
        (include_str!("data/tables/fernhollow-library.csv"), Units::si()),
        (include_str!("data/tables/saltreed-growers.csv"), Units::si()),
        (include_str!("data/tables/saltreed-growers.csv"), Units::inch_pound()),
    ] {
        let found = pasted(list, &units);
        assert!(found.is_headed && found.notes.is_empty(), "{:?}", found.notes);
        assert_eq!(read_zone_cells(&filled(&found), &units).unwrap(), read_zones(list, "list").unwrap());
    }
}

#[test]
fn faults_name_row_and_place() {
    let mut rows = hall("3", "5");
    rows.push(vec![String::new(); ZONE_FIELDS.len()]);
    rows.extend(hall("x", "-5"));
    let found: Vec<_> = faults(&rows).iter().map(|fault| (fault.row, fault.column_index())).collect();
    let expected = [ZoneField::Load, ZoneField::Branch, ZoneField::Name].map(|field| (Some(3), Some(place(field))));
    assert_eq!(found.len(), 3, "{found:?}");
    assert!(expected.iter().all(|fault| found.contains(fault)), "{found:?}");
    assert_eq!(faults(&[]).len(), 1);
}

/// In a list of its own `1.985` is 1985 where another cell has a decimal comma; in an editor it must stay what it was.
#[test]
fn typing_in_one_cell_does_not_change_what_another_means() {
    let zones = read_zone_cells(&hall("1.985", "0,5"), &Units::si()).unwrap();
    assert!((zones[0].load - 1985.0).abs() < 1e-9 && (zones[0].branch.length - 0.5).abs() < 1e-12);
    // What can be read two ways is asked about.
    assert!(faults(&hall("1,985", "0,5"))[0].message.contains("two ways"));
}

/// 1 Btu/h = 0.29307107 W, 1 ft = 0.3048 m, 1 psi = 6894.757 Pa, Kv = 0.8650 Cv (published conversions).
#[test]
fn other_units_keep_what_is_meant() {
    let mut rows = hall("2", "10 m");
    rows[0][place(ZoneField::Kv)] = "4".to_owned();
    rows[0][place(ZoneField::Drop)] = "seven".to_owned();
    let (si, ip) = (Units::si(), Units::inch_pound());
    let turned = cells_in_units(&rows, &si, &ip);
    assert_eq!(turned[0][place(ZoneField::Load)], "6.82428");
    assert_eq!(turned[0][place(ZoneField::Loss)], "1.160302");
    assert!((turned[0][place(ZoneField::Kv)].parse::<f64>().unwrap() - 4.0 / 0.8650).abs() < 1e-3);
    // What has its own unit, and what is no figure, stays as typed.
    assert_eq!(turned[0][place(ZoneField::Branch)], "10 m");
    assert_eq!(turned[0][place(ZoneField::Drop)], "seven");
    assert_eq!(cells_in_units(&turned, &ip, &si), rows);
    rows[0][place(ZoneField::Drop)].clear();
    let (zone, same) =
        (read_zone_cells(&rows, &si).unwrap(), read_zone_cells(&cells_in_units(&rows, &si, &ip), &ip).unwrap());
    assert!((zone[0].load / same[0].load - 1.0).abs() < 1e-6 && zone[0].branch == same[0].branch);
    assert!((zone[0].valve_kv.unwrap() / same[0].valve_kv.unwrap() - 1.0).abs() < 1e-6);
}

#[test]
fn distances_to_the_next_tee_go_to_the_zone_below() {
    let found = pasted("name\tdistance to next tee (m)\tCv\nA\t7\t2\nB\t9\t\n", &Units::si());
    let distance = |row: usize| found.rows[row][place(ZoneField::Before)].clone();
    assert_eq!((distance(0), distance(1)), (None, Some("7".to_owned())));
    assert_eq!(found.rows[0][place(ZoneField::Kv)].as_deref(), Some("Cv 2"));
}

#[test]
fn cells_without_headings_keep_their_places() {
    let some = |text: &str| Some(text.to_owned());
    let found = pasted("Hall\t3\r\n\r\nPorch, north\t0,5\r\n", &Units::si());
    assert!(!found.is_headed);
    assert_eq!(found.rows, [vec![some("Hall"), some("3")], vec![], vec![some("Porch, north"), some("0,5")]]);
    // A column of decimal commas is one column.
    assert_eq!(pasted("2,5\n3,5\n", &Units::si()).rows, [[some("2,5")], [some("3,5")]]);
    // Names that could head a column are no headings beside figures.
    assert!(!pasted("Room\t3\tfloor\t8\t5\n", &Units::si()).is_headed);
    assert!(pasted("", &Units::si()).rows.is_empty());
}

#[test]
fn a_heading_without_unit_is_told() {
    let found = pasted("name\tload\tcolour\nHall\t2000\tred\n", &Units::si());
    assert_eq!(found.rows[0][place(ZoneField::Load)].as_deref(), Some("2000"));
    assert_eq!(found.notes.len(), 2, "{:?}", found.notes);
    assert!(found.notes.iter().any(|note| note.contains("heat load (kW)")));
    assert!(found.notes.iter().any(|note| note.contains("colour")));
}
