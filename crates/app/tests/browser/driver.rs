//! Chromium, driven.

use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use fantoccini::elements::Element;
use fantoccini::key::Key;
use fantoccini::wd::{Capabilities, WebDriverCompatibleCommand};
use fantoccini::{Client, ClientBuilder, Locator};
use http::Method;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;
use url::{ParseError, Url};

/// How long anything on a page may take on a busy machine with two cores.
const PATIENCE: Duration = Duration::from_secs(40);
const INSTALL: &str = "install Chromium and its driver (Debian: apt-get install chromium chromium-driver)";

/// How the browser is set up.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Setup {
    pub(crate) width: u32,
    pub(crate) height: u32,
    pub(crate) script: bool,
    pub(crate) webgl: bool,
    pub(crate) touch: bool,
    pub(crate) still: bool,
}

impl Setup {
    pub(crate) const DESK: Self =
        Self { width: 1440, height: 900, script: true, webgl: true, touch: false, still: false };
    pub(crate) const TABLET: Self = Self { width: 1180, height: 820, touch: true, ..Self::DESK };
}

/// A browser window with its driver; both end with it.
pub(crate) struct Browser {
    pub(crate) client: Client,
    driver: Child,
    _profile: TempDir,
}

/// A command that the library does not know.
#[derive(Debug)]
struct Raw {
    path: &'static str,
    body: Value,
}

impl WebDriverCompatibleCommand for Raw {
    fn endpoint(&self, base: &Url, session: Option<&str>) -> Result<Url, ParseError> {
        base.join(&format!("session/{}/{}", session.unwrap_or_default(), self.path))
    }

    fn method_and_body(&self, _: &Url) -> (Method, Option<String>) {
        (Method::POST, Some(self.body.to_string()))
    }
}

fn on_path(names: &[&str]) -> PathBuf {
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&path)
        .flat_map(|dir| names.iter().map(move |n| dir.join(n)))
        .find(|file| file.is_file())
        .unwrap_or_else(|| panic!("none of {names:?} is installed: {INSTALL}"))
}

impl Browser {
    pub(crate) async fn open(setup: Setup) -> Self {
        let chromium = on_path(&["chromium", "chromium-browser", "google-chrome"]);
        let mut driver = Command::new(on_path(&["chromedriver"]))
            .arg("--port=0")
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(driver.stdout.take().unwrap()).lines();
        let port = lines
            .by_ref()
            .map_while(Result::ok)
            .find_map(|l| l.split("successfully on port ").nth(1)?.trim_end_matches('.').parse::<u16>().ok())
            .unwrap_or_else(|| panic!("chromedriver does not say its port: {INSTALL}"));
        // Its later words must find a reader, or it stands still.
        std::thread::spawn(move || lines.for_each(drop));
        let profile = tempfile::tempdir().unwrap();
        let capabilities = capabilities(setup, &chromium, profile.path());
        let client = ClientBuilder::new(hyper_util::client::legacy::connect::HttpConnector::new())
            .capabilities(capabilities)
            .connect(&format!("http://127.0.0.1:{port}"))
            .await
            .unwrap_or_else(|e| panic!("chromium does not start: {e}; {INSTALL}"));
        let browser = Self { client, driver, _profile: profile };
        browser.size(setup.width, setup.height).await;
        browser
    }

    /// A command of the browser's own protocol.
    pub(crate) async fn protocol(&self, name: &str, params: Value) -> Value {
        let body = json!({ "cmd": name, "params": params });
        self.client.issue_cmd(Raw { path: "goog/cdp/execute", body }).await.unwrap()
    }

    /// The size of the page in its own pixels, whatever the window has round it.
    pub(crate) async fn size(&self, width: u32, height: u32) {
        let params = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.protocol("Emulation.setDeviceMetricsOverride", params).await;
    }

    /// What the console has complained of since it was last asked.
    pub(crate) async fn complaints(&self) -> Vec<String> {
        let log =
            self.client.issue_cmd(Raw { path: "se/log", body: json!({ "type": "browser" }) }).await.unwrap();
        let of =
            |entry: &Value, key: &str| entry.get(key).and_then(Value::as_str).unwrap_or_default().to_owned();
        log.as_array()
            .into_iter()
            .flatten()
            .filter(|e| matches!(of(e, "level").as_str(), "SEVERE" | "WARNING"))
            .map(|e| of(e, "message"))
            // The software renderer of a machine without graphics says so; it is no fault of the page.
            .filter(|m| !m.contains("GPU stall") && !m.contains("SwiftShader") && !m.contains("swiftshader"))
            .collect()
    }

    pub(crate) async fn goto(&self, address: &str) {
        self.client.goto(address).await.unwrap();
    }

    pub(crate) async fn find(&self, css: &str) -> Element {
        self.client
            .wait()
            .at_most(PATIENCE)
            .for_element(Locator::Css(css))
            .await
            .unwrap_or_else(|e| panic!("{css}: {e}"))
    }

    /// Brings an element into view and presses it with the mouse.
    pub(crate) async fn click(&self, css: &str) {
        let element = self.find(css).await;
        self.run(
            "arguments[0].scrollIntoView({block: 'center'})",
            vec![serde_json::to_value(&element).unwrap()],
        )
        .await;
        element.click().await.unwrap_or_else(|e| panic!("{css}: {e}"));
    }

    /// Types into a field instead of what stands there.
    pub(crate) async fn fill(&self, css: &str, text: &str) {
        let element = self.find(css).await;
        self.run(
            "arguments[0].scrollIntoView({block: 'center'}); arguments[0].select?.()",
            vec![serde_json::to_value(&element).unwrap()],
        )
        .await;
        element.send_keys(text).await.unwrap_or_else(|e| panic!("{css}: {e}"));
    }

    pub(crate) async fn run(&self, script: &str, args: Vec<Value>) -> Value {
        self.client.execute(script, args).await.unwrap_or_else(|e| panic!("{script}: {e}"))
    }

    /// What an element says; a page that is just being replaced is asked again.
    pub(crate) async fn text(&self, css: &str) -> String {
        let begun = Instant::now();
        loop {
            match self.find(css).await.text().await {
                Ok(text) => return text,
                Err(error) => assert!(begun.elapsed() < PATIENCE, "{css}: {error}"),
            }
        }
    }

    /// Waits until a script says true.
    pub(crate) async fn until(&self, what: &str, script: &str) {
        let begun = Instant::now();
        while self.run(script, Vec::new()).await != Value::Bool(true) {
            assert!(begun.elapsed() < PATIENCE, "{what}: not after {PATIENCE:?}");
            tokio::time::sleep(Duration::from_millis(60)).await;
        }
    }

    /// Presses and lets go one key.
    pub(crate) async fn key(&self, key: char) {
        let press = KeyActions::new("keys".to_owned())
            .then(KeyAction::Down { value: key })
            .then(KeyAction::Up { value: key });
        self.client.perform_actions(press).await.unwrap();
    }

    /// Goes on with Tab until the focus is on what is wanted, and asserts at each stop that it can be seen.
    pub(crate) async fn tab_to(&self, css: &str) {
        const SEEN: &str = "const a = document.activeElement; if (!a || a === document.body) return [false, 'body', true]; \
            const around = [a, a.closest('article'), a.closest('label')].filter(Boolean); \
            const seen = around.some(e => { const s = getComputedStyle(e); return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2; }); \
            return [a.matches(arguments[0]), a.outerHTML.slice(0, 120), seen];";
        for _ in 0..400 {
            let now = self.run(SEEN, vec![json!(css)]).await;
            let stop = now.as_array().cloned().unwrap_or_default();
            assert_eq!(stop.get(2), Some(&Value::Bool(true)), "the focus cannot be seen: {now}");
            if stop.first() == Some(&Value::Bool(true)) {
                return;
            }
            self.key(Key::Tab.into()).await;
        }
        panic!("Tab never comes to {css}");
    }

    /// Types text with the keys alone, into whatever has the focus.
    pub(crate) async fn keys(&self, text: &str) {
        let mut all = KeyActions::new("keys".to_owned());
        for letter in text.chars() {
            all = all.then(KeyAction::Down { value: letter }).then(KeyAction::Up { value: letter });
        }
        self.client.perform_actions(all).await.unwrap();
    }

    /// A picture of the window in the folder of screens.
    pub(crate) async fn picture(&self, name: &str) {
        let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(
            || Path::new(env!("CARGO_MANIFEST_DIR")).join("../../target"),
            |set| Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").join(set),
        );
        let folder = target.join("screens");
        std::fs::create_dir_all(&folder).unwrap();
        let bytes = self.client.screenshot().await.unwrap();
        std::fs::write(folder.join(format!("{name}.png")), bytes).unwrap();
    }

    pub(crate) async fn close(mut self) {
        let _ = self.client.clone().close().await;
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

impl Drop for Browser {
    fn drop(&mut self) {
        // Also after a failed assertion: nothing may be left running.
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

fn capabilities(setup: Setup, chromium: &Path, profile: &Path) -> Capabilities {
    let mut args = vec![
        "--headless=new".to_owned(),
        "--no-sandbox".to_owned(),
        "--disable-quic".to_owned(),
        "--no-first-run".to_owned(),
        "--disable-background-networking".to_owned(),
        "--disable-component-update".to_owned(),
        "--disable-sync".to_owned(),
        "--hide-scrollbars".to_owned(),
        format!("--user-data-dir={}", profile.display()),
        format!("--window-size={},{}", setup.width, setup.height),
    ];
    if setup.webgl {
        args.extend(["--disable-gpu".to_owned(), "--enable-unsafe-swiftshader".to_owned()]);
    } else {
        args.extend([
            "--disable-gpu".to_owned(),
            "--disable-software-rasterizer".to_owned(),
            "--disable-3d-apis".to_owned(),
        ]);
    }
    if setup.touch {
        args.push("--touch-events=enabled".to_owned());
    }
    if setup.still {
        args.push("--force-prefers-reduced-motion".to_owned());
    }
    let script = if setup.script { 1 } else { 2 };
    let all = json!({
        "goog:chromeOptions": {
            "binary": chromium,
            "args": args,
            "prefs": { "profile.managed_default_content_settings.javascript": script },
        },
        "goog:loggingPrefs": { "browser": "ALL" },
    });
    let Value::Object(map) = all else { return Capabilities::new() };
    map
}
