//! A headless Chromium of a test's own, driven step by step as a grower would.

use std::{
    env,
    io::{BufRead, BufReader},
    path::{Path, PathBuf},
    process::{Child, ChildStdout, Command, ExitStatus, Stdio},
    time::{Duration, Instant},
};

use base64::prelude::{BASE64_STANDARD, Engine};
use serde_json::{Value, json};
use tempfile::TempDir;
use thirtyfour::{
    LoggingPrefsLogLevel, common::capabilities::chromium::ChromiumLikeCapabilities, prelude::*,
};
use tokio::runtime::Runtime;

/// A hand's telephone.
pub const PHONE: (u32, u32) = (390, 844);

/// A desk.
pub const DESK: (u32, u32) = (1280, 800);

/// How long a page may take.
const PATIENCE: Duration = Duration::from_secs(20);

/// What Chromium is started with: no picture, and no talk of its own to anyone.
const FLAGS: [&str; 11] = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--hide-scrollbars",
    "--disable-dev-shm-usage",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
];

/// Whether the one who runs the tests has said aloud that there is no browser here.
pub fn unwanted() -> bool {
    let unwanted = env::var("BUDSWELL_NO_BROWSER").is_ok_and(|value| value == "1");
    if unwanted {
        println!("no browser was started: BUDSWELL_NO_BROWSER=1");
    }
    unwanted
}

fn on_path(names: &[&str]) -> PathBuf {
    let folders: Vec<PathBuf> = env::split_paths(&env::var_os("PATH").unwrap_or_default()).collect();
    let found = names
        .iter()
        .flat_map(|name| folders.iter().map(move |folder| folder.join(name)))
        .find(|it| it.is_file());
    found.unwrap_or_else(|| {
        panic!(
            "{} is not installed; on Debian: apt-get install chromium chromium-driver \
             (or say BUDSWELL_NO_BROWSER=1 to go without these tests)",
            names[0]
        )
    })
}

/// A chromedriver on a free port, ended on drop.
struct Chromedriver {
    child: Child,
    _printed: BufReader<ChildStdout>,
    port: u16,
    /// Where the browser leaves its profile and its rubbish; gone on drop.
    _rubbish: TempDir,
}

impl Chromedriver {
    /// Two that start at once may choose the same free port, and one of them ends; it is started anew.
    fn start() -> Chromedriver {
        const TRIES: usize = 5;
        let mut ended = None;
        for _ in 0..TRIES {
            match Chromedriver::try_start() {
                Ok(started) => return started,
                Err(how) => ended = Some(how),
            }
        }
        panic!("chromedriver ended {TRIES} times before it said its port: {ended:?}");
    }

    fn try_start() -> Result<Chromedriver, std::io::Result<ExitStatus>> {
        let rubbish = tempfile::tempdir().expect("room for a profile");
        let mut child = Command::new(on_path(&["chromedriver"]))
            .env("TMPDIR", rubbish.path())
            .args(["--port=0", "--log-level=SEVERE"])
            .stdin(Stdio::null())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("chromedriver starts");
        let mut printed = BufReader::new(child.stdout.take().expect("its output is ours"));
        let mut line = String::new();
        let port = loop {
            line.clear();
            if printed.read_line(&mut line).expect("it prints text") == 0 {
                return Err(child.wait());
            }
            if let Some((_, rest)) = line.split_once("started successfully on port ") {
                break rest.trim().trim_end_matches('.').parse().expect("a port");
            }
        };
        Ok(Chromedriver { child, _printed: printed, port, _rubbish: rubbish })
    }
}

impl Drop for Chromedriver {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A browser window on a running Budswell.
pub struct Window {
    home: String,
    runtime: Runtime,
    driver: Option<WebDriver>,
    _chromedriver: Chromedriver,
}

impl Window {
    /// Opens a window of this size; `address` is host and port of the pages.
    pub fn open(address: &str, size: (u32, u32)) -> Window {
        let chromium = on_path(&["chromium", "chromium-browser", "google-chrome"]);
        let chromedriver = Chromedriver::start();
        let mut wishes = DesiredCapabilities::chrome();
        wishes.set_binary(&chromium.to_string_lossy()).unwrap();
        wishes.set_browser_log_level(LoggingPrefsLogLevel::All).unwrap();
        FLAGS.iter().for_each(|flag| wishes.add_arg(flag).unwrap());
        let runtime =
            tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().unwrap();
        let server = format!("http://127.0.0.1:{}", chromedriver.port);
        let driver = runtime.block_on(async { WebDriver::new(server, wishes).await });
        let driver = driver.unwrap_or_else(|why| panic!("chromium did not start: {why}"));
        let window = Window {
            home: format!("http://{address}"),
            runtime,
            driver: Some(driver),
            _chromedriver: chromedriver,
        };
        window.resize(size);
        window
    }

    fn driver(&self) -> &WebDriver {
        self.driver.as_ref().expect("open until dropped")
    }

    fn wait<T>(&self, step: impl Future<Output = WebDriverResult<T>>) -> T {
        self.runtime.block_on(step).unwrap_or_else(|why| panic!("{why}\n{}", self.where_it_stands()))
    }

    fn where_it_stands(&self) -> String {
        let driver = self.driver();
        let told = self.runtime.block_on(async {
            let text = driver.find(By::Tag("main")).await?.text().await?;
            WebDriverResult::Ok(format!("at {}:\n{text}", driver.current_url().await?))
        });
        told.unwrap_or_default()
    }

    fn cdp(&self, method: &str, words: Value) {
        self.wait(async { self.driver().cdp().send_raw(method, words).await });
    }

    /// Makes the page's window this large, one dot of the page to one of the picture.
    pub fn resize(&self, (width, height): (u32, u32)) {
        let words = json!({ "width": width, "height": height, "deviceScaleFactor": 1, "mobile": false });
        self.cdp("Emulation.setDeviceMetricsOverride", words);
    }

    /// Lets the page believe that its grower likes it dark, or light.
    pub fn prefer_dark(&self, dark: bool) {
        let value = if dark { "dark" } else { "light" };
        let words = json!({ "features": [{ "name": "prefers-color-scheme", "value": value }] });
        self.cdp("Emulation.setEmulatedMedia", words);
    }

    /// From now on the screen can be touched.
    pub fn touchable(&self) {
        self.cdp("Emulation.setTouchEmulationEnabled", json!({ "enabled": true, "maxTouchPoints": 2 }));
    }

    /// Puts fingers down, drags them where they shall go, if anywhere, and lifts them.
    pub fn touch(&self, from: &[[f64; 2]], to: &[[f64; 2]]) {
        let points = |spots: &[[f64; 2]]| -> Vec<Value> {
            spots.iter().enumerate().map(|(id, [x, y])| json!({ "x": x, "y": y, "id": id })).collect()
        };
        let send = |kind: &str, spots: &[[f64; 2]]| {
            self.cdp("Input.dispatchTouchEvent", json!({ "type": kind, "touchPoints": points(spots) }));
        };
        send("touchStart", from);
        if !to.is_empty() {
            for step in 1..=4 {
                let part = f64::from(step) / 4.0;
                let between: Vec<[f64; 2]> = from
                    .iter()
                    .zip(to)
                    .map(|(a, b)| [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part])
                    .collect();
                send("touchMove", &between);
            }
        }
        send("touchEnd", &[]);
    }

    /// How many pages it takes to print what is open, on A4.
    pub fn printed_pages(&self) -> usize {
        let words = json!({ "paperWidth": 8.27, "paperHeight": 11.69 });
        let told = self.wait(async { self.driver().cdp().send_raw("Page.printToPDF", words).await });
        let bytes = BASE64_STANDARD.decode(told["data"].as_str().expect("a document")).expect("base64");
        let text = String::from_utf8_lossy(&bytes);
        text.matches("/Type /Page\n").count()
    }

    /// Goes to a page of the house.
    pub fn go(&self, path: &str) {
        self.wait(async { self.driver().goto(format!("{}{path}", self.home)).await });
    }

    /// A second tab, of the same size; gives both, the first one first.
    pub fn second_tab(&self, size: (u32, u32)) -> (WindowHandle, WindowHandle) {
        let both = self.wait(async {
            let first = self.driver().window().await?;
            let second = self.driver().new_tab().await?;
            self.driver().switch_to_window(second.clone()).await?;
            Ok((first, second))
        });
        self.resize(size);
        both
    }

    /// Turns to a tab.
    pub fn turn_to(&self, tab: &WindowHandle) {
        self.wait(async { self.driver().switch_to_window(tab.clone()).await });
    }

    fn one(&self, css: &str) -> WebElement {
        self.wait(async {
            self.driver().query(By::Css(css)).wait(PATIENCE, Duration::from_millis(50)).first().await
        })
    }

    /// Taps what the selector names, after bringing it to the middle of the screen as a thumb would.
    pub fn tap(&self, css: &str) {
        let target = self.one(css);
        self.wait(async {
            let words = vec![target.to_json()?];
            self.driver().execute("arguments[0].scrollIntoView({ block: 'center' })", words).await?;
            target.click().await
        });
    }

    /// Taps what leads to another page, and waits until that one stands.
    pub fn follow(&self, css: &str) {
        self.ask("document.documentElement.dataset.left = ''");
        self.tap(css);
        let arrived =
            "return document.readyState === 'complete' && !('left' in document.documentElement.dataset)";
        let begun = Instant::now();
        loop {
            // Between two pages there is none to ask; that is no fault.
            let told = self.runtime.block_on(async { self.driver().execute(arrived, Vec::new()).await });
            if told.is_ok_and(|told| told.json() == &json!(true)) {
                return;
            }
            assert!(begun.elapsed() < PATIENCE, "{css} led nowhere\n{}", self.where_it_stands());
            std::thread::sleep(Duration::from_millis(20));
        }
    }

    /// Presses the button with these words on it, which leads to another page.
    pub fn press(&self, words: &str) {
        let mark = "for (const it of document.querySelectorAll('button')) \
                    it.toggleAttribute('data-press', it.textContent === arguments[0] && it.checkVisibility())";
        self.ask_with(mark, vec![json!(words)]);
        self.follow("button[data-press]");
    }

    /// Writes into a field, in place of what stood there.
    pub fn fill(&self, css: &str, words: &str) {
        let field = self.one(css);
        self.wait(async {
            field.clear().await?;
            field.send_keys(words).await
        });
    }

    /// Puts a file into a file field.
    pub fn choose_file(&self, css: &str, file: &Path) {
        let field = self.one(css);
        self.wait(async { field.send_keys(file.to_string_lossy().into_owned()).await });
    }

    /// Chooses from a list by the value behind the words.
    pub fn choose(&self, css: &str, value: &str) {
        self.tap(css);
        self.tap(&format!("{css} option[value=\"{value}\"]"));
    }

    /// The words that can be read there.
    pub fn text(&self, css: &str) -> String {
        let found = self.one(css);
        self.wait(async { found.text().await })
    }

    /// What stands in a field.
    pub fn value(&self, css: &str) -> String {
        let found = self.one(css);
        self.wait(async { found.prop("value").await }).unwrap_or_default()
    }

    /// The answer of a piece of script run in the page.
    pub fn ask(&self, script: &str) -> Value {
        self.ask_with(script, Vec::new())
    }

    fn ask_with(&self, script: &str, words: Vec<Value>) -> Value {
        self.wait(async { self.driver().execute(script, words).await }).json().clone()
    }

    /// As [`Window::ask`], for a script that calls its last argument when it is done.
    pub fn ask_and_wait(&self, script: &str) -> Value {
        self.wait(async { self.driver().execute_async(script, Vec::new()).await }).json().clone()
    }

    /// What the page complained of since last asked, worse than a warning.
    pub fn errors(&self) -> Vec<String> {
        let log = self.wait(async { self.driver().browser_log().await });
        log.into_iter().filter(|entry| entry.level == "SEVERE").map(|entry| entry.message).collect()
    }

    /// The addresses of everything that the page has asked for, itself included.
    pub fn requests(&self) -> Vec<String> {
        let asked = self.ask(
            "return ['navigation', 'resource'].flatMap(kind => performance.getEntriesByType(kind)).map(it => it.name)",
        );
        serde_json::from_value(asked).expect("a list of addresses")
    }

    /// Where the pages live, as `http://127.0.0.1:4730`.
    pub fn home(&self) -> &str {
        &self.home
    }

    /// A picture of the window, as PNG.
    pub fn picture(&self) -> Vec<u8> {
        self.wait(async { self.driver().screenshot_as_png().await })
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        if let Some(driver) = self.driver.take() {
            let _ = self.runtime.block_on(driver.quit());
        }
    }
}
