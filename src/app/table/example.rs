//! An invented building that shows how the list is filled in: lengths, losses and bores of its zones as worked out by hand.

use super::plant::{Figure, Plant};
use crate::engine::units::Units;
use crate::file::table::{cells_in_units, pasted};

/// The list.
const ZONES: &str = "\
zone;heat load (kW);emitter;emitter loss (kPa);branch length (m);distance from the tee before (m);valve;valve Kv;branch bore (mm);\
main bore (mm);branch fittings;main fittings
Office radiators;2;radiator;8;5;12;none;;13.6;32.6;5;3
Meeting radiators;3;radiator;8;7;8;none;;20.2;32.6;5;1
Children's floor;4;floor;16;3;10;zone valve;2.5;20.2;26.2;4;1
Reading-room floor;7;floor;17;4;8;zone valve;4;20.2;26.2;4;2
";

/// The plant.
const PLANT: [(Figure, &str); 6] = [
    (Figure::Supply, "45"),
    (Figure::Drop, "7"),
    (Figure::CommonLength, "4"),
    (Figure::CommonFittings, "6"),
    (Figure::SourceFlow, "0.6"),
    (Figure::Strainer, "12"),
];

/// The example's cells and plant in the given units.
pub(super) fn example(units: &Units) -> (Vec<Vec<String>>, Plant) {
    let si = Units::si();
    let list = pasted(ZONES, &si).rows;
    let cells: Vec<Vec<String>> =
        list.into_iter().map(|row| row.into_iter().map(Option::unwrap_or_default).collect()).collect();
    let mut plant = Plant::default();
    "Fernhollow Library".clone_into(&mut plant.title);
    for (figure, text) in PLANT {
        *plant.text(figure) = text.to_owned();
    }
    plant.turn(&si, units);
    (cells_in_units(&cells, &si, units), plant)
}
