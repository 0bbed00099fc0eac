//! The line: connections on loopback, a bounded number of them, none held by who sends or reads nothing.

use std::{sync::Arc, time::Duration};

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::{
    rt::{TokioIo, TokioTimer},
    server::graceful::GracefulShutdown,
    service::TowerToHyperService,
};
use tokio::{
    net::{TcpListener, TcpStream},
    sync::Semaphore,
    time::{sleep, timeout},
};
use tokio_io_timeout::TimeoutStream;

/// Connections at once; the next wait until one ends.
const CONNECTIONS: usize = 256;

/// A connection on which no whole head of a request comes for so long is closed.
const HEAD: Duration = Duration::from_secs(30);

/// A connection whose other end takes nothing of an answer for so long is closed.
const UNREAD: Duration = Duration::from_secs(30);

/// What is under way when the house closes has so long to end.
const LAST: Duration = Duration::from_secs(10);

/// Answers connections until told to stop; then ends what is under way.
pub async fn answer(listener: TcpListener, router: Router, stop: impl Future<Output = ()>) {
    let (places, open) = (Arc::new(Semaphore::new(CONNECTIONS)), GracefulShutdown::new());
    tokio::pin!(stop);
    loop {
        let next = async {
            let place = Arc::clone(&places).acquire_owned().await;
            (listener.accept().await, place)
        };
        let (stream, place) = tokio::select! {
            (Ok((stream, _)), place) = next => (stream, place),
            () = &mut stop => break,
            // Out of handles, most likely: others may end meanwhile.
            else => { sleep(Duration::from_millis(100)).await; continue }
        };
        let connection = open.watch(connection(stream, router.clone()));
        tokio::spawn(async move {
            // A line that breaks is the other end's affair.
            let _ = connection.await;
            drop(place);
        });
    }
    let _ = timeout(LAST, open.shutdown()).await;
}

type Wire = TokioIo<std::pin::Pin<Box<TimeoutStream<TcpStream>>>>;

fn connection(stream: TcpStream, router: Router) -> http1::Connection<Wire, TowerToHyperService<Router>> {
    let _ = stream.set_nodelay(true);
    let mut stream = TimeoutStream::new(stream);
    stream.set_write_timeout(Some(UNREAD));
    http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD)
        .serve_connection(TokioIo::new(Box::pin(stream)), TowerToHyperService::new(router))
}
