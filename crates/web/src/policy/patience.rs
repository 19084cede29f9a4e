//! A connection whose other end takes nothing is given up: answers that nobody reads must not pile up.

use std::io;
use std::pin::Pin;
use std::task::{Context, Poll};
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::time::{Sleep, sleep};

/// A stream that fails when nothing could be written for so long.
#[derive(Debug)]
pub(crate) struct Patient<S> {
    stream: S,
    patience: Duration,
    /// Runs while a write waits.
    ends: Option<Pin<Box<Sleep>>>,
}

impl<S> Patient<S> {
    /// Waits so long, and no longer, for the other end to take what is written.
    pub(crate) fn new(stream: S, patience: Duration) -> Self {
        Self { stream, patience, ends: None }
    }

    /// Starts or stops the clock by what a write came to.
    fn judged<T>(&mut self, wrote: Poll<io::Result<T>>, cx: &mut Context<'_>) -> Poll<io::Result<T>> {
        if wrote.is_ready() {
            self.ends = None;
            return wrote;
        }
        let patience = self.patience;
        let ends = self.ends.get_or_insert_with(|| Box::pin(sleep(patience)));
        match ends.as_mut().poll(cx) {
            Poll::Ready(()) => Poll::Ready(Err(io::ErrorKind::TimedOut.into())),
            Poll::Pending => Poll::Pending,
        }
    }
}

impl<S: AsyncRead + Unpin> AsyncRead for Patient<S> {
    fn poll_read(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        buf: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.stream).poll_read(cx, buf)
    }
}

impl<S: AsyncWrite + Unpin> AsyncWrite for Patient<S> {
    fn poll_write(mut self: Pin<&mut Self>, cx: &mut Context<'_>, buf: &[u8]) -> Poll<io::Result<usize>> {
        let wrote = Pin::new(&mut self.stream).poll_write(cx, buf);
        self.judged(wrote, cx)
    }

    fn poll_flush(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        let flushed = Pin::new(&mut self.stream).poll_flush(cx);
        self.judged(flushed, cx)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        let closed = Pin::new(&mut self.stream).poll_shutdown(cx);
        self.judged(closed, cx)
    }

    fn poll_write_vectored(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        bufs: &[io::IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        let wrote = Pin::new(&mut self.stream).poll_write_vectored(cx, bufs);
        self.judged(wrote, cx)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tokio::io::{AsyncReadExt, AsyncWriteExt, duplex};

    #[tokio::test]
    async fn an_end_that_takes_nothing_is_given_up() {
        let (mut far, near) = duplex(16);
        let mut near = Patient::new(near, Duration::from_millis(50));
        // As long as the other end reads, all is well.
        let reader = tokio::spawn(async move {
            let mut taken = [0; 100];
            far.read_exact(&mut taken).await.unwrap();
            far
        });
        near.write_all(&[7; 100]).await.unwrap();
        let far = reader.await.unwrap();
        let given_up = near.write_all(&[7; 100]).await.unwrap_err();
        assert_eq!(given_up.kind(), io::ErrorKind::TimedOut);
        drop(far);
    }
}
