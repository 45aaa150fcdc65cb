//! The HTML page in a real browser: clicked, switched, typed and printed, and what it then shows held against a study of that very state
//! made here. Places in the plot are read off its own axes, as a person does.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test stops where what it needs is missing"
)]

mod browser;
#[path = "plans/copies.rs"]
mod copies;
#[path = "page/states.rs"]
mod states;
#[path = "page/whole.rs"]
mod whole;

use browser::Browser;
use headwise::document::{Command, Project, ZoneId};
use headwise::engine::units::Units;
use headwise::file;
use headwise::report::page;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const LIBRARY: &str = "fernhollow-library.ron";
const GROWERS: &str = "saltreed-growers.ron";
const CLINIC: &str = "alder-point-clinic.ron";
const COURT: &str = "thornwick-court.ron";
const DATE: &str = "2026-11-26";

fn sample(name: &str) -> Project {
    file::load(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects").join(name)).unwrap()
}

fn html(project: &Project, units: &Units) -> String {
    page(project, units, DATE).unwrap()
}

/// A browser that shows the page of a project.
struct Shown {
    browser: Browser,
    _folder: TempDir,
    path: PathBuf,
}

impl Shown {
    fn new(project: &Project, units: &Units) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("page.html");
        std::fs::write(&path, html(project, units)).unwrap();
        let browser = Browser::start();
        browser.open(&path);
        Self { browser, _folder: folder, path }
    }

    /// The text of what a selector finds, as a person sees it.
    fn text(&self, selector: &str) -> String {
        let found = self.browser.run(&format!("return document.querySelector({selector:?}).innerText"));
        found.as_str().unwrap_or_default().to_owned()
    }

    /// A number that a script returns.
    fn number(&self, script: &str) -> f64 {
        let found = self.browser.run(script);
        found.as_f64().unwrap_or_else(|| panic!("{script}: {found}"))
    }

    fn rest(&self) {
        self.browser.wait_for("return document.querySelector('svg.plot.on[data-pump]').dataset.rests === 'true'");
    }
}

/// The project with some zones shut and all others open.
fn with_shut(project: &Project, shut: &[ZoneId]) -> Project {
    let mut case = project.clone();
    for (id, zone) in &project.zones {
        if let Some(valve) = zone.valve {
            case.apply(&Command::SetOpen(valve, !shut.contains(id))).unwrap();
        }
    }
    case
}
