//! The end of serving: on Ctrl-C and on SIGTERM alike, after the requests under way, with the log folded into the file.

use std::thread::JoinHandle;

use crate::web::App;

/// Waits until someone stops the server.
pub async fn asked() {
    tokio::select! {
        _ = tokio::signal::ctrl_c() => {}
        () = terminated() => {}
    }
}

#[cfg(unix)]
async fn terminated() {
    use tokio::signal::unix::{SignalKind, signal};

    match signal(SignalKind::terminate()) {
        Ok(mut signal) => drop(signal.recv().await),
        Err(_) => std::future::pending().await,
    }
}

#[cfg(not(unix))]
async fn terminated() {
    std::future::pending().await
}

/// Folds the log in and says so.
pub fn end(app: &App, keeper: Option<JoinHandle<()>>) -> anyhow::Result<()> {
    app.keeper.stop();
    keeper.map(JoinHandle::join);
    let mut store = app.store.lock().map_err(|_| anyhow::anyhow!("the store broke"))?;
    if store.home().is_some() {
        let whole = store.fold()?;
        println!(
            "{}",
            if whole {
                "Stopped; everything is in the one file."
            } else {
                "Stopped; the log beside the file is still needed."
            }
        );
    }
    Ok(())
}
