//! Copies of unsaved work: what was kept comes back, what lives is left alone, what cannot be read is told and kept.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

use headwise::document::Project;
use headwise::file::recovery::{Keeper, LeftBehind, Origin, left_behind};
use headwise::file::{Fingerprint, load, parse, save_marked};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

fn sample() -> Project {
    load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/fernhollow-library.ron")).unwrap()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

/// Keeps one document and ends as a crash does: the lock goes, the copy stays.
fn crash(folder: &Path, project: &Project, origin: &Origin) {
    Keeper::new(folder).unwrap().keep(0, project, origin).unwrap();
}

fn only(mut found: Vec<LeftBehind>) -> LeftBehind {
    assert_eq!(found.len(), 1);
    found.remove(0)
}

#[test]
fn what_was_kept_comes_back() {
    let folder = tempfile::tempdir().unwrap();
    let project = sample();
    let file = folder.path().join("house.ron");
    let mark = save_marked(&project, &file).unwrap();
    let copies = folder.path().join("data/recovery");
    let origin = Origin::now("Line one\nline \"two\" // and */", Some(&file), Some(mark));
    crash(&copies, &project, &origin);
    let found = only(left_behind(&copies));
    let read = found.origin().unwrap();
    assert_eq!((&read.title, read.path.as_deref()), (&origin.title, Some(file.as_path())));
    assert_eq!((read.mark, read.process), (Some(Fingerprint::of(&file).unwrap()), std::process::id()));
    let off = origin.time.duration_since(read.time).unwrap();
    assert!(off < Duration::from_secs(1), "{off:?}");
    assert_eq!(found.read().unwrap(), project);
    // It is a project of its own: a person can open it without this module.
    let text = fs::read_to_string(found.path()).unwrap();
    assert_eq!(parse(&text, "copy").unwrap(), project);
    found.delete().unwrap();
    drop(found);
    assert_eq!(left_behind(&copies).len(), 0);
    // The lock of a window without copies goes with the next look.
    assert_eq!(names(&copies), Vec::<String>::new());
}

#[test]
fn paths_of_every_kind_come_back() {
    let project = sample();
    let mut paths = vec![None, Some(PathBuf::from("/house at the sea/Größe “12”.ron")), Some("/a\nb\t'\\.ron".into())];
    #[cfg(unix)]
    {
        use std::os::unix::ffi::OsStrExt;
        paths.push(Some(PathBuf::from(std::ffi::OsStr::from_bytes(b"/not text \xff\xfe.ron"))));
    }
    for path in paths {
        let folder = tempfile::tempdir().unwrap();
        crash(folder.path(), &project, &Origin::now("House", path.as_deref(), None));
        assert_eq!(only(left_behind(folder.path())).origin().unwrap().path, path);
    }
    // What is named from the present folder is found from any other.
    let origin = Origin::now("House", Some(Path::new("house.ron")), None);
    assert_eq!(origin.path, Some(std::env::current_dir().unwrap().join("house.ron")));
}

#[test]
fn a_living_window_keeps_its_copies_to_itself() {
    let folder = tempfile::tempdir().unwrap();
    let project = sample();
    let mut living = Keeper::new(folder.path()).unwrap();
    living.keep(3, &project, &Origin::now("Living", None, None)).unwrap();
    crash(folder.path(), &project, &Origin::now("Crashed", None, None));
    let title = |copy: &LeftBehind| copy.origin().unwrap().title.clone();
    let found = left_behind(folder.path());
    assert_eq!(found.iter().map(title).collect::<Vec<_>>(), ["Crashed"]);
    // What one window offers no other one offers at the same time.
    assert_eq!(left_behind(folder.path()).len(), 0);
    drop(found);
    assert_eq!(left_behind(folder.path()).len(), 1);
    drop(living);
    let mut titles: Vec<String> = left_behind(folder.path()).iter().map(title).collect();
    titles.sort();
    assert_eq!(titles, ["Crashed", "Living"]);
}

#[test]
fn a_window_that_ends_well_leaves_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let project = sample();
    let mut keeper = Keeper::new(folder.path()).unwrap();
    for number in 0..3 {
        for _ in 0..2 {
            keeper.keep(number, &project, &Origin::now("House", None, None)).unwrap();
        }
        assert_eq!(names(folder.path()).len(), 2, "a lock and one copy");
        keeper.forget(number).unwrap();
    }
    keeper.forget(77).unwrap();
    drop(keeper);
    assert_eq!(names(folder.path()), Vec::<String>::new());
}

#[test]
fn what_cannot_be_read_is_told_and_kept() {
    let folder = tempfile::tempdir().unwrap();
    let project = sample();
    crash(folder.path(), &project, &Origin::now("Damaged", None, None));
    let place = only(left_behind(folder.path())).path().to_owned();
    let whole = fs::read(&place).unwrap();
    let half = &whole[..whole.len() / 2];
    fs::write(&place, half).unwrap();
    let found = only(left_behind(folder.path()));
    assert_eq!(found.origin().unwrap().title, "Damaged");
    let message = found.read().unwrap_err().to_string();
    assert!(message.contains("line "), "{message}");
    drop(found);
    for bad in [
        &b""[..],
        b"\xff\xfe\n",
        b"// Headwise recovery copy: {}\n",
        b"(format: 1)",
        b"// Headwise recovery copy: \
        {\"version\":2,\"title\":\"\",\"seconds_since_1970\":0,\"process\":1}\n",
    ] {
        fs::write(&place, bad).unwrap();
        let found = only(left_behind(folder.path()));
        let message = found.origin().unwrap_err().to_owned();
        assert!(message.contains(&place.display().to_string()) && message.contains("kept"), "{message}");
        assert!(found.read().is_err());
        drop(found);
        assert_eq!(fs::read(&place).unwrap(), bad);
    }
    // Times that no clock shows do not stop anything.
    let odd = format!(
        "// Headwise recovery copy: {{\"version\":1,\"title\":\"Odd\",\"seconds_since_1970\":{},\"process\":1}}\n",
        u64::MAX
    );
    fs::write(&place, odd).unwrap();
    assert!(only(left_behind(folder.path())).origin().unwrap().time <= SystemTime::now());
}

#[test]
fn other_files_in_the_folder_are_none_of_ours() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["notes.ron", "window-x.ron", "window-abc-1.txt", "other.lock", ".window-a-1.ron.swp"] {
        fs::write(folder.path().join(name), "something").unwrap();
    }
    assert_eq!(left_behind(folder.path()).len(), 0);
    assert_eq!(names(folder.path()).len(), 5);
    assert_eq!(left_behind(&folder.path().join("not there")).len(), 0);
}

#[cfg(unix)]
#[test]
fn copies_are_for_their_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let copies = folder.path().join("recovery");
    crash(&copies, &sample(), &Origin::now("House", None, None));
    assert_eq!(fs::metadata(&copies).unwrap().permissions().mode() & 0o777, 0o700);
}

#[test]
fn a_folder_that_cannot_be_used_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("file");
    fs::write(&file, "").unwrap();
    let message = Keeper::new(&file.join("recovery")).unwrap_err().to_string();
    assert!(message.contains("recovery") && message.contains("Save often"), "{message}");
}
