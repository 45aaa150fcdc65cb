//! A real browser without a screen, driven over the W3C WebDriver protocol: Chromium by its own driver, on a free port of this machine,
//! with an empty profile. Both end with the test, also where it fails.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;
use tempfile::TempDir;

/// The key under which the protocol hands out elements (W3C WebDriver, "web element identifier").
const ELEMENT: &str = "element-6066-11e4-a52e-4f735466cecf";

/// The keys that the protocol names by characters (W3C WebDriver, "keyboard actions").
pub const DOWN: &str = "\u{e015}";
/// The space bar.
pub const SPACE_BAR: &str = " ";

/// A browser with one page.
pub struct Browser {
    driver: Child,
    agent: ureq::Agent,
    session: String,
    _profile: TempDir,
}

impl Browser {
    /// Starts driver and browser.
    pub fn start() -> Self {
        let missing = "chromedriver and chromium are needed: .ci/packages test installs them";
        let mut driver = Command::new("chromedriver")
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap_or_else(|error| panic!("{missing}: {error}"));
        let mut port = None;
        let mut said = BufReader::new(driver.stdout.take().unwrap());
        let mut line = String::new();
        while port.is_none() && said.read_line(&mut line).unwrap_or(0) > 0 {
            let number = line.split("successfully on port ").nth(1);
            port = number.and_then(|text| text.trim().trim_end_matches('.').parse::<u16>().ok());
            line.clear();
        }
        // Held from here on, so that a failure below ends the driver too.
        let config = ureq::Agent::config_builder()
            .proxy(None)
            .timeout_global(Some(Duration::from_secs(60)))
            .http_status_as_error(false)
            .build();
        let profile = tempfile::tempdir().unwrap();
        let mut browser = Self { driver, agent: config.into(), session: String::new(), _profile: profile };
        let base = format!("http://127.0.0.1:{}/session", port.expect(missing));
        let options = json!({
            "args": [
                "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
                "--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
                "--window-size=1280,800", "about:blank", format!("--user-data-dir={}", browser._profile.path().display()),
            ]
        });
        let wanted = json!({ "capabilities": { "alwaysMatch": {
            "browserName": "chrome",
            "goog:chromeOptions": options,
            "goog:loggingPrefs": { "browser": "ALL", "performance": "ALL" },
        }}});
        let begun = browser.send(&base, &wanted);
        browser.session = format!("{base}/{}", begun["sessionId"].as_str().expect("the browser did not start"));
        // What the browser does by itself when it starts is not what a page does.
        browser.post("url", &json!({ "url": "about:blank" }));
        browser.requests();
        browser.complaints();
        browser
    }

    fn send(&self, address: &str, body: &Value) -> Value {
        let mut answer =
            self.agent.post(address).header("content-type", "application/json").send(body.to_string()).unwrap();
        let text = answer.body_mut().with_config().limit(100 << 20).read_to_string().unwrap();
        let value: Value = serde_json::from_str(&text).unwrap();
        assert!(value["value"]["error"].is_null(), "{address} {body}: {}", value["value"]);
        value["value"].clone()
    }

    fn post(&self, command: &str, body: &Value) -> Value {
        self.send(&format!("{}/{command}", self.session), body)
    }

    /// Opens a file of this machine.
    pub fn open(&self, path: &Path) {
        self.post("url", &json!({ "url": format!("file://{}", path.display()) }));
    }

    /// What a script of the test's own returns.
    pub fn run(&self, script: &str) -> Value {
        self.post("execute/sync", &json!({ "script": script, "args": [] }))
    }

    /// Waits until a script returns true.
    #[track_caller]
    pub fn wait_for(&self, script: &str) {
        for _ in 0..200 {
            if self.run(script) == json!(true) {
                return;
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        panic!("in vain: {script}");
    }

    fn element(&self, selector: &str) -> String {
        let found = self.post("element", &json!({ "using": "css selector", "value": selector }));
        found[ELEMENT].as_str().unwrap_or_else(|| panic!("no {selector}")).to_owned()
    }

    /// Clicks in the middle of what a selector finds, as a mouse does: what covers it would be hit instead.
    pub fn click(&self, selector: &str) {
        self.post(&format!("element/{}/click", self.element(selector)), &json!({}));
    }

    /// Presses keys on the element that has the focus.
    pub fn press(&self, keys: &str) {
        let strokes: Vec<Value> = keys
            .chars()
            .flat_map(|key| ["keyDown", "keyUp"].map(|kind| json!({ "type": kind, "value": key.to_string() })))
            .collect();
        self.post("actions", &json!({ "actions": [{ "type": "key", "id": "keys", "actions": strokes }] }));
    }

    /// A command of the browser's own protocol.
    pub fn own(&self, command: &str, parameters: &Value) -> Value {
        self.post("goog/cdp/execute", &json!({ "cmd": command, "params": parameters }))
    }

    /// Makes the view as large as that of a device.
    pub fn resize(&self, [width, height]: [u32; 2], is_phone: bool) {
        let size = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": is_phone });
        self.own("Emulation.setDeviceMetricsOverride", &size);
    }

    /// What the reader prefers: `light` or `dark`.
    pub fn prefer(&self, scheme: &str) {
        let feature = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.own("Emulation.setEmulatedMedia", &feature);
    }

    /// The whole page as PNG.
    pub fn picture(&self) -> Vec<u8> {
        let found = self.own("Page.captureScreenshot", &json!({ "format": "png", "captureBeyondViewport": true }));
        decoded(found["data"].as_str().unwrap())
    }

    /// The page as it is printed on A4: PDF.
    pub fn printed(&self) -> Vec<u8> {
        let page = json!({ "page": { "width": 21.0, "height": 29.7 }, "background": true });
        decoded(self.post("print", &page).as_str().unwrap())
    }

    /// What the console holds since it was last asked.
    pub fn complaints(&self) -> Vec<String> {
        self.log("browser").iter().map(|entry| entry["message"].to_string()).collect()
    }

    /// Addresses that were asked for since it was last asked.
    pub fn requests(&self) -> Vec<String> {
        let message = |entry: &Value| -> Option<String> {
            let event: Value = serde_json::from_str(entry["message"].as_str()?).ok()?;
            (event["message"]["method"] == "Network.requestWillBeSent")
                .then(|| event["message"]["params"]["request"]["url"].as_str().unwrap_or_default().to_owned())
        };
        self.log("performance").iter().filter_map(message).collect()
    }

    fn log(&self, kind: &str) -> Vec<Value> {
        self.post("se/log", &json!({ "type": kind })).as_array().unwrap().clone()
    }
}

/// Bytes out of base64 (RFC 4648).
fn decoded(text: &str) -> Vec<u8> {
    let place = |letter: u8| match letter {
        b'A'..=b'Z' => letter - b'A',
        b'a'..=b'z' => letter - b'a' + 26,
        b'0'..=b'9' => letter - b'0' + 52,
        b'+' => 62,
        _ => 63,
    };
    let letters: Vec<u8> = text.bytes().filter(|letter| *letter != b'=').map(place).collect();
    let four = |four: &[u8]| {
        let all = (0..4).fold(0_u32, |all, at| all << 6 | u32::from(four.get(at).copied().unwrap_or(0)));
        all.to_be_bytes()[1..four.len()].to_vec()
    };
    letters.chunks(4).flat_map(four).collect()
}

impl Drop for Browser {
    fn drop(&mut self) {
        if !self.session.is_empty() {
            let _ = self.agent.delete(&self.session).call();
        }
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}
