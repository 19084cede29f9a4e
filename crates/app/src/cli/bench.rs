//! `keepwright bench`: the whole job on a page in the browser.

use crate::desk::Desk;
use crate::failure::{Failure, Verdict};
use clap::{Args, ValueEnum};
use keepwright_store::{Rights, Store, Time};
use keepwright_web::{Bench, Config, MINUTES, Reach, demo, serve};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{SystemTime, UNIX_EPOCH};

/// The port unless another is asked for; nothing else is registered there.
pub(crate) const PORT: u16 = 4571;

/// Open the bench in the browser, served by this machine for this machine
#[derive(Debug, Args)]
pub(crate) struct BenchArgs {
    /// The shop folder; made, with a demo workshop in it, if it is not there [default: keepwright-shop in the home folder]
    #[arg(long, value_name = "DIR")]
    folder: Option<PathBuf>,
    /// The port; 0 for any that is free
    #[arg(long, value_name = "N", default_value_t = PORT)]
    port: u16,
    /// Also answer paired devices in the local network, such as a tablet beside the saw
    #[arg(long)]
    lan: bool,
    /// Print the address and leave the browser alone
    #[arg(long)]
    no_browser: bool,
    /// What a new folder begins with
    #[arg(long, value_enum, default_value_t = Start::Demo, value_name = "WHAT")]
    start: Start,
}

/// What a new shop folder begins with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Start {
    /// An invented workshop with boards and boxes
    Demo,
    /// Nothing
    Empty,
}

impl Default for BenchArgs {
    fn default() -> Self {
        Self { folder: None, port: PORT, lan: false, no_browser: false, start: Start::Demo }
    }
}

impl BenchArgs {
    /// Serves until it is stopped.
    ///
    /// # Errors
    /// When the folder cannot be opened or the port not be listened on.
    pub(super) fn run(self, desk: &mut Desk) -> Result<Verdict, Failure> {
        let folder = match &self.folder {
            Some(folder) => folder.clone(),
            None => usual_folder()?,
        };
        let now = Time::seconds(now());
        let store = Store::open(&folder, now).map_err(|error| Failure::Output { says: error.to_string() })?;
        self.first_start(&store, now).map_err(|error| Failure::Output { says: error.to_string() })?;
        let reach = if self.lan { Reach::LocalNetwork } else { Reach::ThisMachine };
        let config = Config { port: self.port, reach };
        let runtime = tokio::runtime::Builder::new_multi_thread()
            .enable_all()
            .build()
            .map_err(|error| Failure::Output { says: format!("the bench cannot be started: {error}") })?;
        let mut said = Ok(());
        let served = runtime.block_on(serve(store, config, |bench, address| {
            let mut lines = format!("The bench is at {address} (shop folder {})\n", folder.display());
            if self.lan {
                lines.push_str(&invitation(bench));
            }
            said = desk.data(&lines);
            if !self.no_browser {
                open_browser(address);
            }
        }));
        said?;
        served.map_err(|error| Failure::Output { says: error.to_string() })?;
        Ok(Verdict::Fine)
    }

    fn first_start(&self, store: &Store, now: Time) -> Result<(), keepwright_store::Error> {
        if store.shop()?.is_some() {
            return Ok(());
        }
        match self.start {
            Start::Demo => demo::fill(store, now),
            Start::Empty => demo::empty(store, now),
        }
    }
}

/// The first link for a device of the local network, or why there is none.
fn invitation(bench: &Bench) -> String {
    match bench.invite(Rights::Look) {
        Ok(invitation) => format!(
            "On the tablet, within {MINUTES} minutes, open this link or point the camera at it. It lets one device in, \
             to look and to tick beside the saw; links with other rights are made under Shop, Devices.\n\n{}",
            invitation.lines()
        ),
        Err(error) => format!("No link for a device: {error}.\n"),
    }
}

/// `keepwright-shop` in the home folder.
fn usual_folder() -> Result<PathBuf, Failure> {
    std::env::home_dir().filter(|h| h.is_dir()).map(|home| home.join("keepwright-shop")).ok_or_else(|| {
        Failure::input("this system names no home folder", "say where the shop folder is with --folder DIR")
    })
}

/// Seconds since 1970 by this machine's clock.
fn now() -> i64 {
    SystemTime::now()
        .duration_since(UNIX_EPOCH)
        .map_or(0, |since| i64::try_from(since.as_secs()).unwrap_or(i64::MAX))
}

/// Asks the system to open the page; without a browser the address that was printed does.
fn open_browser(address: &str) {
    let opener = if cfg!(target_os = "macos") {
        "open"
    } else if cfg!(windows) {
        "explorer"
    } else {
        "xdg-open"
    };
    let _ = Command::new(Path::new(opener))
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
}
