//! What goes wrong on a page, each as a title, a sentence, a remedy and an HTTP status: the only place that knows
//! the statuses.

use askama::Template;
use axum::http::{StatusCode, header};
use axum::response::{Html, IntoResponse, Response};
use thiserror::Error;

/// Why a page cannot be shown or a change not be made.
#[derive(Debug, Error)]
pub(crate) enum PageError {
    /// Nothing is there under this address.
    #[error("there is nothing at this address")]
    NotFound,
    /// A box, board or run that is not, or no longer, there.
    #[error("there is no {what} called {name} in this shop")]
    NoSuch {
        /// `box`, `board`, …
        what: &'static str,
        /// As asked for.
        name: String,
    },
    /// Another name than ours.
    #[error("this bench does not answer to {0}")]
    WrongHost(String),
    /// A request from a page of another site.
    #[error("a page of another site ({0}) asked for this")]
    OtherSite(String),
    /// A write without the token.
    #[error(
        "this change did not come from a page of this bench, or the page is older than the bench's last start"
    )]
    Forged,
    /// A write by a device that may only look.
    #[error("this device may look and tick, but not change anything")]
    MayOnlyLook,
    /// Somebody who is not paired.
    #[error("this device is not paired with the bench")]
    NotPaired,
    /// A code that is wrong, used or too old; or a wait for an earlier one.
    #[error("{says}")]
    CodeRefused {
        /// What became of it.
        says: String,
        /// Seconds until another is looked at; 0 for at once.
        wait: i64,
    },
    /// Something that was there and is not kept any longer.
    #[error("{says}")]
    Gone {
        /// What is gone.
        says: String,
        /// How to have it again.
        remedy: String,
    },
    /// More bytes than are taken.
    #[error("more than {} KiB were sent, which is the most that is taken here", most / 1024)]
    TooLarge {
        /// The most that is taken.
        most: usize,
    },
    /// An answer, or what was sent, took too long.
    #[error("this took longer than is waited for")]
    TooSlow,
    /// A body that broke off or is not what it says.
    #[error("what was sent cannot be read: {0}")]
    BrokenBody(String),
    /// A field that cannot be used.
    #[error("{says}")]
    Refused {
        /// What is wrong, with the value.
        says: String,
        /// What to do.
        remedy: String,
    },
    /// The store.
    #[error(transparent)]
    Store(#[from] keepwright_store::Error),
    /// No random bytes.
    #[error("this system gives no random numbers: {0}")]
    Random(getrandom::Error),
    /// A template that could not be filled in, or a task that ended: never expected.
    #[error("the page could not be made: {0}")]
    Broken(String),
}

impl PageError {
    /// A value that cannot be used, with its remedy.
    pub(crate) fn refused(says: impl Into<String>, remedy: impl Into<String>) -> Self {
        Self::Refused { says: says.into(), remedy: remedy.into() }
    }

    const fn status(&self) -> StatusCode {
        match self {
            Self::NotFound | Self::NoSuch { .. } => StatusCode::NOT_FOUND,
            Self::Gone { .. } => StatusCode::GONE,
            Self::WrongHost(_) => StatusCode::MISDIRECTED_REQUEST,
            Self::OtherSite(_)
            | Self::Forged
            | Self::MayOnlyLook
            | Self::NotPaired
            | Self::CodeRefused { wait: 0, .. } => StatusCode::FORBIDDEN,
            Self::CodeRefused { .. } => StatusCode::TOO_MANY_REQUESTS,
            Self::TooSlow => StatusCode::REQUEST_TIMEOUT,
            Self::TooLarge { .. } => StatusCode::PAYLOAD_TOO_LARGE,
            Self::BrokenBody(_) => StatusCode::BAD_REQUEST,
            Self::Refused { .. } => StatusCode::UNPROCESSABLE_ENTITY,
            Self::Store(_) | Self::Random(_) | Self::Broken(_) => StatusCode::INTERNAL_SERVER_ERROR,
        }
    }

    const fn title(&self) -> &'static str {
        match self {
            Self::NotFound | Self::NoSuch { .. } | Self::Gone { .. } => "Not here",
            Self::WrongHost(_)
            | Self::OtherSite(_)
            | Self::Forged
            | Self::MayOnlyLook
            | Self::NotPaired
            | Self::CodeRefused { .. } => "Not let in",
            Self::TooLarge { .. } | Self::TooSlow | Self::BrokenBody(_) | Self::Refused { .. } => "Not taken",
            Self::Store(_) | Self::Random(_) | Self::Broken(_) => "Something is wrong here",
        }
    }

    fn remedy(&self) -> String {
        match self {
            Self::NotFound => "go to the boxes, or check the address".to_owned(),
            Self::NoSuch { .. } => {
                "it may be in the bin, or have another name by now: look in the list".to_owned()
            }
            Self::WrongHost(_) => "open the address that the program printed when it started".to_owned(),
            Self::OtherSite(_) => "open the bench itself and make the change there".to_owned(),
            Self::Forged => {
                "load the page again and repeat the change; what you typed is still in the form".to_owned()
            }
            Self::MayOnlyLook => {
                "make the change at the desk, or pair this device again with all rights".to_owned()
            }
            Self::NotPaired => {
                "at the desk, open Shop and then Devices, make a link there and open it here; if this \
                                device is paired already, go to the boxes"
                    .to_owned()
            }
            Self::CodeRefused { wait, .. } => {
                let first = match wait {
                    0 => String::new(),
                    1..=90 => format!("wait {wait} seconds; then, "),
                    _ => format!("wait {} minutes; then, ", (wait + 59) / 60),
                };
                format!("{first}at the desk, open Shop and then Devices, and make a new link for this device")
            }
            Self::TooSlow => {
                "try it again; if it stays so, send less at once or stop other work on this machine"
                    .to_owned()
            }
            Self::TooLarge { .. } => "send less at once; a picture can be made smaller first".to_owned(),
            Self::BrokenBody(_) => "go back, load the page again, and repeat it".to_owned(),
            Self::Refused { remedy, .. } | Self::Gone { remedy, .. } => remedy.clone(),
            Self::Store(_) => {
                "nothing was changed; see that the disk has room and the folder can be written".to_owned()
            }
            Self::Random(_) | Self::Broken(_) => {
                "stop the program and start it again; nothing was lost".to_owned()
            }
        }
    }
}

#[derive(Template)]
#[template(path = "pages/error.html")]
struct ErrorPage<'a> {
    title: &'a str,
    says: &'a str,
    remedy: &'a str,
}

impl IntoResponse for PageError {
    fn into_response(self) -> Response {
        let (says, remedy) = (self.to_string(), self.remedy());
        let page = ErrorPage { title: self.title(), says: &says, remedy: &remedy };
        let body = page.render().unwrap_or_else(|_| format!("{}: {says}", self.title()));
        let mut response = (self.status(), Html(body)).into_response();
        if let Self::CodeRefused { wait: wait @ 1.., .. } = self {
            response.headers_mut().insert(header::RETRY_AFTER, wait.into());
        }
        response
    }
}

impl From<askama::Error> for PageError {
    fn from(error: askama::Error) -> Self {
        Self::Broken(error.to_string())
    }
}
