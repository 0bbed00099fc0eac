//! Files by page upload: chosen, previewed, and taken in on a yes.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, State, multipart::MultipartError},
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};
use intake::{
    import::{Done, ImportError, ImportFile, ImportQuestion, Kind, OTHERS, Options, import, take_in},
    sheet::table,
};
use serde::Deserialize;
use view::words::count;

use crate::web::{
    App, Waiting,
    answer::{Answer, Typed},
    asked,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

#[derive(Template)]
#[template(path = "bring.html")]
struct BringPage {
    here: &'static str,
    others: &'static [(&'static str, &'static str, &'static str)],
    kinds: Vec<(&'static str, &'static str, String)>,
    places: Vec<(String, String)>,
    files: Vec<(String, String, u64)>,
    kept: Vec<String>,
}

/// The form to choose a file.
pub async fn form(State(app): Given) -> Told {
    let whole = app.whole()?;
    let places =
        whole.places.iter().map(|place| (place.place.key.clone(), place.place.name.clone())).collect();
    let reader = app.reader();
    let files = reader.files().map_err(Answer::store)?;
    let kept = view::weather_kept::lines(&reader).map_err(Answer::store)?;
    drop(reader);
    let kinds = table::all().map(|format| (format.key, format.words, format.header())).collect();
    Answer::page(&BringPage { here: "bring", others: &OTHERS, kinds, places, files, kept })
}

/// An example of a kind of file, to save and fill in.
pub async fn example(Path(key): Path<String>) -> Result<Response, Answer> {
    let other = OTHERS.iter().find(|(other, ..)| *other == key).map(|(.., example)| *example);
    let found = table::of(&key).map(|format| format.example).or(other);
    let text = found.ok_or_else(|| Answer::missing("kind of file"))?;
    let ending = if key == "away" { "ics" } else { "csv" };
    let name = format!("attachment; filename=\"{key}.{ending}\"");
    let kind = "text/plain; charset=utf-8".to_string();
    Ok(([(header::CONTENT_TYPE, kind), (header::CONTENT_DISPOSITION, name)], text).into_response())
}

#[derive(Template)]
#[template(path = "preview.html")]
struct PreviewPage {
    here: &'static str,
    name: String,
    format: String,
    rows: String,
    span: String,
    notes: Vec<String>,
    questions: Vec<ImportQuestion>,
    refused: Vec<(usize, String, String)>,
    more: usize,
    number: u64,
    can_leave_out: bool,
}

/// Most refused lines shown at once.
const SHOWN: usize = 50;

/// An upload that broke off.
pub fn unreadable(_: MultipartError) -> Answer {
    let why = "Not saved: the upload is not complete, or not sent as a form with a file. Send it again.";
    Answer::no(StatusCode::BAD_REQUEST, "The upload broke off", why.into())
}

async fn upload(mut parts: Multipart) -> Result<Waiting, Answer> {
    let (mut kind, mut place, mut sensor) = (String::new(), String::new(), String::new());
    let (mut name, mut bytes, mut update) = (String::new(), Vec::new(), false);
    while let Some(part) = parts.next_field().await.map_err(unreadable)? {
        match part.name().unwrap_or("") {
            "kind" => kind = part.text().await.map_err(unreadable)?,
            "update" => update = true,
            "place" => place = part.text().await.map_err(unreadable)?,
            "sensor" => sensor = part.text().await.map_err(unreadable)?,
            "file" => {
                name = part.file_name().unwrap_or("file").to_string();
                bytes = part.bytes().await.map_err(unreadable)?.to_vec();
            }
            _ => {}
        }
    }
    let kind = Kind::from_key(&kind, &place).ok_or_else(|| {
        Answer::no(
            StatusCode::UNPROCESSABLE_ENTITY,
            "Not taken",
            format!("no kind of file is called “{kind}”"),
        )
    })?;
    if bytes.is_empty() {
        return Err(Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", "the file is empty".into()));
    }
    Ok(Waiting { kind: kind.of_sensor(&sensor), name, bytes, update })
}

/// Looks the file through and shows what would be taken.
pub async fn preview(State(app): Given, parts: Multipart) -> Told {
    let given = upload(parts).await?;
    let options = Options { update: given.update, ..app.options()? };
    let mut told = intake::import::preview(&app.reader(), &given.kind, &given.name, &given.bytes, &options)
        .map_err(Answer::store)?;
    told.ask(asked::winters(&app, &told, &options)?);
    let can_leave_out = told.can_leave_out();
    let refused: Vec<_> =
        told.refused.iter().take(SHOWN).map(|it| (it.line, it.value.clone(), it.why.clone())).collect();
    let name = given.name.clone();
    let number = app.keep(given)?;
    Answer::page(&PreviewPage {
        here: "bring",
        name,
        rows: count(told.rows, "row", "rows"),
        span: told.span.map_or_else(String::new, |(first, last)| format!("{first} to {last}")),
        more: told.refused.len().saturating_sub(SHOWN),
        notes: told.notes,
        questions: told.questions,
        format: told.format,
        refused,
        number,
        can_leave_out,
    })
}

/// The grower's yes.
#[derive(Deserialize)]
pub struct Yes {
    number: u64,
    #[serde(default)]
    leave_out: bool,
    unit: Option<String>,
    dates: Option<String>,
    winters: Option<String>,
}

/// Takes the previewed file in.
pub async fn confirm(State(app): Given, Typed(yes): Typed<Yes>) -> Told {
    let given = app.kept(yes.number)?.ok_or_else(|| {
        Answer::no(
            StatusCode::GONE,
            "No longer waiting",
            "The upload was too long ago; bring the file again.".into(),
        )
    })?;
    let options = Options { leave_out: yes.leave_out, update: given.update, ..app.options()? };
    let answers = [("unit", &yes.unit), ("dates", &yes.dates), ("winters", &yes.winters)]
        .map(|(of, it)| (of, it.as_deref()));
    let options = options
        .answered(&answers)
        .map_err(|why| Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not imported", why))?;
    let done = taken_in(&app, &given, &options)?;
    Answer::page(&DonePage {
        here: "bring",
        name: given.name,
        rows: count(done.rows, "row", "rows"),
        added: done.added,
        left_out: match done.left_out {
            0 => String::new(),
            lines => count(lines, "line left out", "lines left out"),
        },
    })
}

/// Looks the file through again and takes it in; the file is read before the writer is asked for, and read again if anything was
/// written meanwhile.
fn taken_in(app: &App, given: &Waiting, options: &Options) -> Result<Done, Answer> {
    let Waiting { kind, name, bytes, .. } = given;
    let no = |why| match why {
        ImportError::Refused(lines) => {
            let named: Vec<String> = lines.iter().take(SHOWN).map(ToString::to_string).collect();
            let why = format!("Nothing was saved: {}", named.join("; "));
            Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", why)
        }
        ImportError::Unclear(_) => {
            Answer::no(StatusCode::UNPROCESSABLE_ENTITY, "Not taken", ImportError::to_string(&why))
        }
        ImportError::Store(why) => Answer::store(why),
    };
    let mut open = false;
    for _ in 0..TRIES {
        let reader = app.reader();
        let before = reader.last_act().map_err(Answer::store)?;
        let mut preview =
            intake::import::preview(&reader, kind, name, bytes, options).map_err(Answer::store)?;
        drop(reader);
        preview.ask(asked::winters(app, &preview, options)?);
        open = !preview.questions.is_empty();
        let file = ImportFile { kind, name, bytes };
        let done = app.change(|store| {
            let now = store.reader().and_then(|reader| reader.last_act()).map_err(Answer::store)?;
            (now == before).then(|| take_in(store, file, preview, options).map_err(no)).transpose()
        })?;
        if let Some(done) = done {
            return Ok(done);
        }
    }
    if open {
        return Err(Answer::no(StatusCode::CONFLICT, "Not taken", crate::web::answer::MEANWHILE.into()));
    }
    app.change(|store| import(store, kind, name, bytes, options).map_err(no))
}

/// How often a file is read again because something was written meanwhile, before the writer waits for it.
const TRIES: usize = 3;

#[derive(Template)]
#[template(path = "done.html")]
struct DonePage {
    here: &'static str,
    name: String,
    rows: String,
    added: usize,
    left_out: String,
}
