//! Backups on a page: made, downloaded, and put back after a look at what would change.

use std::{path::PathBuf, sync::Arc};

use askama::Template;
use axum::{
    body::Body,
    extract::{Path, State},
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};
use store::{copies::Copies, error::Error};
use tokio_util::io::ReaderStream;
use view::backup::{Backups, Comparison, backups, compare};

use crate::{
    cli::backup::now,
    web::{App, answer::Answer},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

#[derive(Template)]
#[template(path = "backup.html")]
struct BackupPage {
    here: &'static str,
    page: Option<Backups>,
    failed: Option<String>,
}

#[derive(Template)]
#[template(path = "restore.html")]
struct RestorePage {
    here: &'static str,
    page: Comparison,
}

#[derive(Template)]
#[template(path = "restored.html")]
struct RestoredPage {
    here: &'static str,
    name: String,
    acts: i64,
    trees: usize,
    kept: String,
}

fn no(why: &Error) -> Answer {
    match why {
        Error::Unknown { .. } => Answer::missing("backup"),
        _ => Answer::no(StatusCode::CONFLICT, "Not done", format!("{why}. Nothing was changed.")),
    }
}

fn data(app: &App) -> Result<PathBuf, Answer> {
    let demo = || {
        let why = "This collection lives in memory only, so there is nothing to copy.".into();
        Answer::no(StatusCode::CONFLICT, "No backups here", why)
    };
    app.data.clone().ok_or_else(demo)
}

/// The page of backups.
pub async fn page(State(app): Given) -> Told {
    let copies = app.data.as_deref().map(Copies::of_collection);
    let page = copies.map(|copies| backups(&copies, now())).transpose().map_err(|why| no(&why))?;
    Answer::page(&BackupPage { here: "bring", page, failed: app.keeper.failed() })
}

/// Makes a backup.
pub async fn make(State(app): Given) -> Told {
    let data = data(&app)?;
    app.keeper.back_up(&data, now()).map_err(|why| no(&why))?;
    Ok(Answer::See("/backup".into()))
}

/// Sends a backup to the browser, piece by piece.
pub async fn download(State(app): Given, Path(name): Path<String>) -> Result<Response, Answer> {
    let copies = Copies::of_collection(&data(&app)?);
    let copy = copies.find(&name).map_err(|why| no(&why))?;
    let file = tokio::fs::File::open(&copy.path).await.map_err(|_| Answer::missing("backup"))?;
    let headers = [
        (header::CONTENT_TYPE, "application/vnd.sqlite3".to_string()),
        (header::CONTENT_LENGTH, copy.bytes.to_string()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{}\"", copy.name)),
        (header::CACHE_CONTROL, "no-store".to_string()),
    ];
    Ok((headers, Body::from_stream(ReaderStream::new(file))).into_response())
}

/// What restoring a backup would change.
pub async fn ask(State(app): Given, Path(name): Path<String>) -> Told {
    let copies = Copies::of_collection(&data(&app)?);
    let copy = copies.find(&name).map_err(|why| no(&why))?;
    let page = compare(&app.readers.lend(), &copy).map_err(|why| no(&why))?;
    Answer::page(&RestorePage { here: "bring", page })
}

/// Restores a backup.
pub async fn restore(State(app): Given, Path(name): Path<String>) -> Told {
    let copies = Copies::of_collection(&data(&app)?);
    let (now, kept) =
        app.change(|store| intake::restore::restore(store, &copies, &name, now()).map_err(|why| no(&why)))?;
    let (acts, trees, kept) = (now.acts, now.trees, kept.name);
    Answer::page(&RestoredPage { here: "bring", name, acts, trees, kept })
}
