//! A program that is killed in the middle of saving leaves one whole version of the file, and next to nothing beside it.
//!
//! The test starts itself again as a process that saves two documents by turns to one path, and kills that at random moments
//! (SIGKILL on Unix: nothing runs after it). Kills of a process do not show what a power cut does to the disk's own cache.

#![expect(clippy::unwrap_used, reason = "a test may stop at what it did not expect")]

use headwise::document::Project;
use headwise::file::{load, parse, save, to_text};
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const PLACE: &str = "HEADWISE_TEST_SAVES_TO";
const KILLS: usize = 200;

fn documents() -> [Project; 2] {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/alder-point-clinic.ron");
    let first = load(&sample).unwrap();
    // Of quite another length, so that a mixture of the two could not pass for one.
    let mut second = first.clone();
    second.title = "The other one".to_owned();
    second.notes = "A line of notes.\n".repeat(4000);
    [first, second]
}

/// Only does something in a process that the test below has started.
#[test]
fn saves_without_end_when_told_to() {
    let Some(path) = std::env::var_os(PLACE).map(PathBuf::from) else { return };
    let documents = documents();
    loop {
        for document in &documents {
            save(document, &path).unwrap();
        }
    }
}

fn saver(path: &Path) -> Child {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.args(["--exact", "saves_without_end_when_told_to"]).env(PLACE, path);
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn().unwrap()
}

/// What lies beside the file.
fn beside(path: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(path.parent().unwrap()).unwrap().map(|entry| entry.unwrap().path());
    entries.filter(|other| other != path).collect()
}

#[test]
fn a_killed_save_leaves_a_whole_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ron");
    let documents = documents();
    let texts = documents.each_ref().map(|document| to_text(document).unwrap());
    save(&documents[0], &path).unwrap();
    let mut found = [0; 2];
    let mut cut_short = 0;
    let mut most_beside = 0;
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    for kill in 0..KILLS {
        let before = fs::metadata(&path).unwrap().modified().unwrap();
        let mut child = saver(&path);
        // It has begun once the file is another one; then some chance moments more.
        let begun = Instant::now();
        while fs::metadata(&path).unwrap().modified().unwrap() == before {
            assert!(begun.elapsed() < Duration::from_secs(30), "nothing was saved");
            assert!(child.try_wait().unwrap().is_none(), "the saver has ended by itself");
            std::thread::sleep(Duration::from_micros(200));
        }
        // Xorshift of Marsaglia, 64 bits: the same moments every time, as far as the machine allows.
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        std::thread::sleep(Duration::from_micros(state % 20_000));
        child.kill().unwrap();
        child.wait().unwrap();
        let text = fs::read_to_string(&path).unwrap();
        let which = texts.iter().position(|whole| *whole == text);
        assert!(which.is_some(), "kill {kill}: {} bytes that are neither document", text.len());
        found[which.unwrap()] += 1;
        let left = beside(&path);
        for other in &left {
            let name = other.file_name().unwrap().to_string_lossy();
            assert!(name.starts_with(".headwise-saving-"), "kill {kill} left {name}");
        }
        most_beside = most_beside.max(left.len());
        cut_short += usize::from(!left.is_empty());
    }
    // Otherwise the kills have proved nothing.
    assert!(found[0] > 0 && found[1] > 0, "{found:?}");
    assert!(cut_short > KILLS / 20, "only {cut_short} of {KILLS} kills fell into a save");
    // Each save clears away what the killed one before it left.
    assert!(most_beside <= 2, "{most_beside} files were left beside it");
    save(&documents[1], &path).unwrap();
    assert_eq!(beside(&path), Vec::<PathBuf>::new());
    assert!(parse(&fs::read_to_string(&path).unwrap(), "house.ron").is_ok());
}

#[test]
fn only_what_nobody_writes_is_cleared_away() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("house.ron");
    let place = |name: &str| folder.path().join(name);
    let left = place(".headwise-saving-Ab12Cd");
    let written = place(".headwise-saving-Zz99Zz");
    let others =
        [".headwise-saving-notes", ".headwise-saving-abc", "headwise-saving-Ab12Cd", ".headwise-saving-Ab12C_"];
    for name in others {
        fs::write(place(name), "someone's").unwrap();
    }
    fs::write(&left, "half a docu").unwrap();
    fs::write(&written, "being writ").unwrap();
    let lock = File::open(&written).unwrap();
    lock.lock().unwrap();
    fs::create_dir(place(".headwise-saving-Folder")).unwrap();
    save(&documents()[0], &path).unwrap();
    assert!(!left.exists());
    assert!(written.exists() && place(".headwise-saving-Folder").exists());
    for name in others {
        assert!(place(name).exists(), "{name}");
    }
    drop(lock);
    save(&documents()[0], &path).unwrap();
    assert!(!written.exists());
}
