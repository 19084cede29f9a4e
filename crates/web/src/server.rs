//! Listening, answering, stopping.

use crate::policy::hosts::{Hosts, Reached};
use crate::policy::patience::Patient;
use crate::policy::places::Places;
use crate::routes::router;
use crate::state::Bench;
use axum::extract::ConnectInfo;
use hyper::body::Incoming;
use hyper_util::rt::{TokioExecutor, TokioIo, TokioTimer};
use hyper_util::server::conn::auto;
use hyper_util::server::graceful::GracefulShutdown;
use hyper_util::service::TowerToHyperService;
use keepwright_store::Store;
use std::net::{IpAddr, Ipv4Addr, UdpSocket};
use std::time::Duration;
use thiserror::Error;
use tokio::net::TcpListener;
use tower::Service as _;

/// A connection that has not said what it wants by then is closed.
const HEAD_TIMEOUT: Duration = Duration::from_secs(10);
/// A connection that has taken nothing of its answer for so long is closed.
const TAKE_TIMEOUT: Duration = Duration::from_secs(30);
/// The longest head of a request, in bytes.
const LONGEST_HEAD: usize = 64 * 1024;
/// How long answers under way may still take when the bench stops.
const LAST_ANSWERS: Duration = Duration::from_secs(5);

/// From where the bench can be reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// From this machine only.
    ThisMachine,
    /// Also from paired devices in the local network.
    LocalNetwork,
}

/// How to serve.
#[derive(Clone, Copy, Debug)]
pub struct Config {
    /// The port; 0 for any that is free.
    pub port: u16,
    /// From where.
    pub reach: Reach,
}

/// Why the bench cannot be served.
#[derive(Debug, Error)]
pub enum ServeError {
    /// The port is taken.
    #[error(
        "port {port} is in use; another bench may be running: look for its window, or start this one with --port 0"
    )]
    PortInUse {
        /// The port.
        port: u16,
    },
    /// The port cannot be listened on.
    #[error("port {port} cannot be listened on: {why}; try another with --port")]
    Listen {
        /// The port.
        port: u16,
        /// Why.
        why: std::io::Error,
    },
    /// The store.
    #[error(transparent)]
    Store(#[from] keepwright_store::Error),
    /// No random bytes.
    #[error("this system gives no random numbers: {0}")]
    Random(getrandom::Error),
}

/// Serves a shop until the program is told to stop; `ready` is called once with the bench and the address to open.
///
/// # Errors
/// [`ServeError`]; after `ready` was called, none.
pub async fn serve(store: Store, config: Config, ready: impl FnOnce(&Bench, &str)) -> Result<(), ServeError> {
    let ip = match config.reach {
        Reach::ThisMachine => IpAddr::V4(Ipv4Addr::LOCALHOST),
        Reach::LocalNetwork => IpAddr::V4(Ipv4Addr::UNSPECIFIED),
    };
    let listener = TcpListener::bind((ip, config.port)).await.map_err(|why| {
        if why.kind() == std::io::ErrorKind::AddrInUse {
            ServeError::PortInUse { port: config.port }
        } else {
            ServeError::Listen { port: config.port, why }
        }
    })?;
    let port = listener.local_addr().map_err(|why| ServeError::Listen { port: config.port, why })?.port();
    let others = match config.reach {
        Reach::ThisMachine => Vec::new(),
        Reach::LocalNetwork => own_addresses(),
    };
    let bench = Bench::new(store, port, Hosts::new(port, &others), others)?;
    ready(&bench, &format!("http://127.0.0.1:{port}/"));
    answer(listener, router(bench)).await;
    Ok(())
}

/// The address by which other machines of the local network reach this one; empty without a network.
///
/// Nothing is sent: connecting a datagram socket only asks the system which of its addresses it would use.
fn own_addresses() -> Vec<IpAddr> {
    let asked = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).and_then(|socket| {
        // A documentation address (RFC 5737).
        socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9))?;
        socket.local_addr()
    });
    asked.map(|a| vec![a.ip()]).unwrap_or_default()
}

async fn answer(listener: TcpListener, app: axum::Router) {
    let places = Places::default();
    let graceful = GracefulShutdown::new();
    let mut stop = std::pin::pin!(told_to_stop());
    loop {
        let (stream, from) = tokio::select! {
            () = &mut stop => break,
            accepted = listener.accept() => {
                if let Ok(accepted) = accepted {
                    accepted
                } else {
                    // Out of file handles, or a client that went away: others may still be answered.
                    tokio::time::sleep(Duration::from_millis(50)).await;
                    continue;
                }
            }
        };
        let Some(place) = places.take(from.ip()) else { continue };
        let Ok(reached) = stream.local_addr() else { continue };
        let app = app.clone();
        let service = tower::service_fn(move |mut request: axum::http::Request<Incoming>| {
            request.extensions_mut().insert(ConnectInfo(from));
            request.extensions_mut().insert(Reached(reached));
            app.clone().call(request)
        });
        let mut builder = auto::Builder::new(TokioExecutor::new()).http1_only();
        builder.http1().timer(TokioTimer::new()).header_read_timeout(HEAD_TIMEOUT).max_buf_size(LONGEST_HEAD);
        let connection = builder.serve_connection(
            TokioIo::new(Patient::new(stream, TAKE_TIMEOUT)),
            TowerToHyperService::new(service),
        );
        let connection = graceful.watch(connection.into_owned());
        tokio::spawn(async move {
            // A client that breaks off is no error of ours.
            let _ = connection.await;
            drop(place);
        });
    }
    let _ = tokio::time::timeout(LAST_ANSWERS, graceful.shutdown()).await;
}

/// Ends when the program is told to stop: from the keyboard, or by the system.
async fn told_to_stop() {
    let from_keyboard = async {
        if tokio::signal::ctrl_c().await.is_err() {
            // No way to hear of it: then only the system can end us.
            std::future::pending::<()>().await;
        }
    };
    #[cfg(unix)]
    {
        use tokio::signal::unix::{SignalKind, signal};
        if let Ok(mut ended) = signal(SignalKind::terminate()) {
            tokio::select! {
                () = from_keyboard => {}
                _ = ended.recv() => {}
            }
            return;
        }
    }
    from_keyboard.await;
}
