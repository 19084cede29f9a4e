//! Fifty makers edit at once: how long the bench takes to answer, whether it errs, and whether its memory stays flat.
//!
//! `cargo run --release --example load -p keepwright [CLIENTS [SECONDS]]`, after `cargo build --release`. Starts the
//! program that was built beside it on a shop folder of its own. Each client types a thickness into a box of its own
//! choosing (a look that saves nothing), and every tenth time keeps it.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, ExitCode, Stdio};
use std::time::{Duration, Instant};
use tokio::io::{AsyncBufReadExt, AsyncReadExt, AsyncWriteExt, BufStream};
use tokio::net::TcpStream;

const BOXES: [&str; 6] = ["pencil-case", "ring-boxes", "seed-bowl", "sewing-box", "stamp-chest", "tea-caddy"];

/// Why a client gave up.
type Trouble = Box<dyn std::error::Error + Send + Sync>;

struct Client {
    to: String,
    stream: BufStream<TcpStream>,
    cookie: String,
    forgery: String,
}

/// Status, head and body of an answer.
struct Answer {
    status: u16,
    head: String,
    body: String,
}

impl Client {
    async fn open(to: &str) -> Result<Self, Trouble> {
        let stream = BufStream::new(TcpStream::connect(to).await?);
        let mut client = Self { to: to.to_owned(), stream, cookie: String::new(), forgery: String::new() };
        let first = client.ask("GET", "/boxes", "").await?;
        let cookie = first.head.lines().find_map(|l| l.strip_prefix("set-cookie: ")).ok_or("no cookie")?;
        client.cookie = cookie.split(';').next().unwrap_or_default().to_owned();
        let page = client.ask("GET", "/boxes", "").await?;
        let token = between(&page.body, "name=\"forgery\" content=\"", "\"").ok_or("no token")?;
        client.forgery.push_str(token);
        Ok(client)
    }

    async fn ask(&mut self, method: &str, path: &str, form: &str) -> Result<Answer, Trouble> {
        let head = format!(
            "{method} {path} HTTP/1.1\r\nhost: {0}\r\norigin: http://{0}\r\ncookie: {1}\r\naccept: application/json\r\n\
             content-type: application/x-www-form-urlencoded\r\ncontent-length: {2}\r\n\r\n{form}",
            self.to,
            self.cookie,
            form.len()
        );
        self.stream.write_all(head.as_bytes()).await?;
        self.stream.flush().await?;
        let mut head = String::new();
        while !head.ends_with("\r\n\r\n") {
            if self.stream.read_line(&mut head).await? == 0 {
                return Err("the bench closed the connection".into());
            }
        }
        let status = head.split(' ').nth(1).and_then(|s| s.parse().ok()).ok_or("no status")?;
        let head = head.to_ascii_lowercase().replace("\r\n", "\n");
        let length = head.lines().find_map(|l| l.strip_prefix("content-length: ")?.parse::<usize>().ok());
        let mut body = Vec::new();
        match length {
            Some(length) => {
                body.resize(length, 0);
                self.stream.read_exact(&mut body).await?;
            }
            None if head.contains("transfer-encoding: chunked") => loop {
                let mut size = String::new();
                self.stream.read_line(&mut size).await?;
                let size = usize::from_str_radix(size.trim(), 16)?;
                let mut piece = vec![0; size + 2];
                self.stream.read_exact(&mut piece).await?;
                if size == 0 {
                    break;
                }
                body.extend(piece.get(..size).unwrap_or_default());
            },
            None => {}
        }
        Ok(Answer { status, head, body: String::from_utf8_lossy(&body).into_owned() })
    }

    async fn edit(&mut self, number: usize, until: Instant) -> Result<Vec<Duration>, Trouble> {
        let mut took = Vec::new();
        let slug = BOXES.get(number % BOXES.len()).copied().unwrap_or("tea-caddy");
        let mut base = self.base(slug).await?;
        for step in number.. {
            if Instant::now() >= until {
                break;
            }
            let tenths = 90 + (step * 7 + number) % 40;
            let form = format!(
                "forgery={}&base={base}&chapter=shape&from=box&f%3Awalls.thickness={}.{}+mm",
                self.forgery,
                tenths / 10,
                tenths % 10
            );
            let keep = step % 10 == 9;
            let path = format!("/boxes/{slug}/{}", if keep { "change" } else { "try" });
            let begun = Instant::now();
            let answer = self.ask("POST", &path, &form).await?;
            took.push(begun.elapsed());
            if !matches!(answer.status, 200 | 303 | 409 | 422) {
                return Err(format!("{path} answered {}: {:.200}", answer.status, answer.body).into());
            }
            if keep {
                base = self.base(slug).await?;
            }
        }
        Ok(took)
    }

    async fn base(&mut self, slug: &str) -> Result<String, Trouble> {
        let page = self.ask("GET", &format!("/boxes/{slug}"), "").await?;
        Ok(between(&page.body, "name=\"base\" value=\"", "\"").ok_or("no version on the page")?.to_owned())
    }
}

fn between<'t>(text: &'t str, before: &str, after: &str) -> Option<&'t str> {
    text.split_once(before)?.1.split_once(after).map(|(found, _)| found)
}

/// Resident memory of a process, KiB; Linux only.
fn memory(child: &Child) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.id())).ok()?;
    status.lines().find_map(|l| l.strip_prefix("VmRSS:")?.trim().strip_suffix(" kB")?.trim().parse().ok())
}

async fn all(to: &str, clients: usize, seconds: u64) -> Result<Vec<Duration>, Trouble> {
    let until = Instant::now() + Duration::from_secs(seconds);
    let mut running = Vec::new();
    for number in 0..clients {
        let to = to.to_owned();
        running.push(tokio::spawn(async move { Client::open(&to).await?.edit(number, until).await }));
    }
    let mut took = Vec::new();
    for one in running {
        took.extend(one.await??);
    }
    took.sort_unstable();
    Ok(took)
}

fn run() -> Result<String, Trouble> {
    let mut words = std::env::args().skip(1);
    let clients = words.next().map_or(Ok(50), |w| w.parse())?;
    let seconds = words.next().map_or(Ok(60), |w| w.parse())?;
    let folder = tempfile::tempdir()?;
    // Examples stand in a folder beside the program.
    let program =
        std::env::current_exe()?.parent().and_then(|p| p.parent()).ok_or("no folder")?.join("keepwright");
    let begun = Instant::now();
    let mut child = Command::new(program)
        .args(["bench", "--port", "0", "--no-browser", "--folder"])
        .arg(folder.path().join("shop"))
        .stdout(Stdio::piped())
        .spawn()?;
    let mut line = String::new();
    BufReader::new(child.stdout.take().ok_or("no output")?).read_line(&mut line)?;
    let started = begun.elapsed();
    let to = between(&line, "http://", "/").ok_or("no address")?.to_owned();
    let runtime = tokio::runtime::Runtime::new()?;
    let said = runtime.block_on(async {
        // Warm first: what is read once is read before the memory is looked at.
        all(&to, clients, 10.min(seconds)).await?;
        let before = memory(&child);
        let took = all(&to, clients, seconds).await?;
        let after = memory(&child);
        let at = |share: usize| took.get((took.len() * share / 100).min(took.len().saturating_sub(1))).copied().unwrap_or_default();
        Ok::<String, Trouble>(format!(
            "start {started:.0?}; {clients} clients, {seconds} s: {} edits, no error; p50 {:.1?}, p95 {:.1?}, p99 {:.1?}; memory {} to {} KiB",
            took.len(),
            at(50),
            at(95),
            at(99),
            before.unwrap_or_default(),
            after.unwrap_or_default()
        ))
    });
    child.kill()?;
    child.wait()?;
    said
}

#[expect(clippy::print_stdout, clippy::print_stderr, reason = "a measurement says what it measured")]
fn main() -> ExitCode {
    match run() {
        Ok(said) => {
            println!("{said}");
            ExitCode::SUCCESS
        }
        Err(trouble) => {
            eprintln!("{trouble}");
            ExitCode::FAILURE
        }
    }
}
