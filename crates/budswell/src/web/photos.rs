//! Photos of a tree: sent in, shown, traced.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, State},
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};
use intake::{
    limbs,
    photo::{self, PhotoForm},
    record::FormError,
};
use serde_json::{Value, json};
use store::{
    error::Error,
    photo::Size,
    version::{Record, Version},
};
use view::{
    limbs::outline::{OutlineError, OutlinePage},
    photos::{Drawing, TracePage},
    stands,
};

use crate::web::{
    App,
    answer::{Answer, Fields, MEANWHILE, Typed, edit},
    import::unreadable,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

/// The parts of a form that carries a photo.
#[derive(Debug, Default)]
pub struct Parts {
    /// Its other fields.
    pub fields: Fields,
    /// The photo; empty where none was chosen.
    pub bytes: Vec<u8>,
}

/// Reads a form that carries a photo.
pub async fn parts(mut given: Multipart) -> Result<Parts, Answer> {
    let mut parts = Parts::default();
    while let Some(part) = given.next_field().await.map_err(unreadable)? {
        match part.name().unwrap_or("").to_string().as_str() {
            "photo" => parts.bytes = part.bytes().await.map_err(unreadable)?.to_vec(),
            name => parts.fields.add(name, part.text().await.map_err(unreadable)?),
        }
    }
    Ok(parts)
}

/// Takes a photo of a tree.
pub async fn send(State(app): Given, Path(tree): Path<String>, given: Multipart) -> Told {
    let parts = parts(given).await?;
    let of = |name: &str| parts.fields.of(name);
    let form = PhotoForm {
        tree: &tree,
        day: of("day"),
        subject: of("subject"),
        clock: of("clock"),
        note: of("note"),
    };
    let no = |why| Answer::form(why, of("note").to_string());
    let (opened, today) = (photo::opened(&parts.bytes).map_err(no)?, app.today()?);
    let kept = app.change(|store| photo::keep(store, form, &opened, today).map_err(no))?;
    Ok(Answer::See(match of("back") {
        "trace" => format!("/photos/{}/trace", kept.key),
        _ => format!("/trees/{tree}/limbs#photos"),
    }))
}

/// The no to a photo that is to go; one that something else rests on stays.
fn not_dropped(why: FormError) -> Answer {
    match why {
        FormError::Store(Error::InUse { by, .. }) => Answer::no(
            StatusCode::CONFLICT,
            "The photo stays",
            format!("Another record holds it, {by}, so it cannot be taken back. Nothing was changed."),
        ),
        other => Answer::form(other, String::new()),
    }
}

/// Takes a photo back.
pub async fn drop_photo(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let whole = app.whole()?;
    let (tree, _) = view::photos::tree_of(&whole, &key).ok_or_else(|| Answer::missing("photo"))?;
    let tree = tree.tree.key.clone();
    edit(&app, &fields, Record::photo(&key), |store| photo::drop_photo(store, &tree, &key))?
        .map_err(not_dropped)?;
    Ok(Answer::See(format!("/trees/{tree}/limbs#photos")))
}

/// A photo's picture.
pub async fn picture(
    State(app): Given,
    Path((key, size)): Path<(String, String)>,
) -> Result<Response, Answer> {
    let size = match size.as_str() {
        "full" => Size::Full,
        "small" => Size::Small,
        _ => return Err(Answer::missing("picture")),
    };
    let reader = app.reader();
    let bytes = reader.picture(&key, size).map_err(Answer::store)?.ok_or_else(|| Answer::missing("photo"))?;
    let kept = [(header::CONTENT_TYPE, "image/jpeg"), (header::CACHE_CONTROL, "private, no-cache")];
    Ok((kept, bytes).into_response())
}

#[derive(Template)]
#[template(path = "trace.html")]
struct TraceTemplate {
    here: &'static str,
    version: String,
    page: TracePage,
    known: String,
    refused: String,
}

/// The page on which a photo is traced.
pub async fn trace(State(app): Given, Path(key): Path<String>) -> Told {
    tracing(&app, &key, None, String::new(), None)
}

/// The same with a drawing that was not taken; `version` is what it goes on from, if not from what stands now.
fn tracing(app: &App, key: &str, typed: Option<Value>, refused: String, version: Option<String>) -> Told {
    let whole = app.whole()?;
    let page = view::photos::trace(&whole, key).ok_or_else(|| Answer::missing("photo"))?;
    let version = version.unwrap_or_else(|| whole.version.to_string());
    let drawing = typed.unwrap_or_else(|| drawn(&page.drawing));
    let known = json!({
        "photo": page.photo, "wide": page.wide, "high": page.high, "next": page.next, "drawing": drawing,
    });
    let known = known.to_string().replace('<', "\\u003c");
    Answer::page(&TraceTemplate { here: "", version, page, known, refused })
}

/// A drawing as the script of the page takes it.
fn drawn(it: &Drawing) -> Value {
    let limbs: Vec<Value> = it
        .limbs
        .iter()
        .map(|limb| {
            json!({
                "number": limb.number, "bearer": limb.bearer, "name": limb.name, "tips": limb.tips, "thick": "",
                "clock": limb.clock.map_or_else(String::new, |hour| hour.to_string()), "points": limb.points,
            })
        })
        .collect();
    let at = it.limbs.iter().position(|limb| limb.points.is_empty()).unwrap_or(it.limbs.len());
    json!({
        "scale": it.scale, "scale_kind": it.scale_kind, "long": it.long, "soil": it.soil, "limbs": limbs, "at": at,
    })
}

/// What is traced by now, and what was drawn here, where another hand was faster.
fn overtaken(app: &App, key: &str, typed: Option<&Value>) -> Result<String, Answer> {
    let whole = app.whole()?;
    let (tree, _) = view::photos::tree_of(&whole, key).ok_or_else(|| Answer::missing("photo"))?;
    let limbs = typed.and_then(|typed| typed["limbs"].as_array()).map(Vec::as_slice).unwrap_or_default();
    let yours: Vec<&str> = limbs.iter().filter_map(|limb| limb["name"].as_str()).collect();
    Ok(format!(
        "Not saved: {MEANWHILE}. Saved now: {}. Yours: {}. The page still holds your lines; save again to put them in place of what is saved.",
        stands::traced(tree, key),
        yours.join(", ")
    ))
}

/// Keeps what was traced; a drawing that cannot be is shown again with the reason.
pub async fn keep_trace(
    State(app): Given,
    Path(key): Path<String>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let traced = fields.of("traced");
    let (units, today) = (app.whole()?.units(), app.today()?);
    let whole = app.whole()?;
    let (tree, _) = view::photos::tree_of(&whole, &key).ok_or_else(|| Answer::missing("photo"))?;
    let records = Record::photo(&key).into_iter().chain([Record::limbs(&tree.tree.key)]);
    match edit(&app, &fields, records, |store| limbs::trace(store, &key, traced, units, today))? {
        Ok(_) => Ok(Answer::See(format!("/trees/{}/limbs?traced={key}", tree.tree.key)).into_response()),
        Err(why) => {
            let typed = serde_json::from_str(traced).ok();
            let (status, words, version) = match &why {
                FormError::Store(Error::ChangedMeanwhile { .. } | Error::OtherHistory) => {
                    (StatusCode::CONFLICT, overtaken(&app, &key, typed.as_ref())?, None)
                }
                FormError::NoVersion => (StatusCode::UNPROCESSABLE_ENTITY, why.to_string(), None),
                _ => (StatusCode::UNPROCESSABLE_ENTITY, why.to_string(), Some(fields.of("revision").into())),
            };
            let page = tracing(&app, &key, typed, words, version)?;
            Ok((status, page).into_response())
        }
    }
}

#[derive(Template)]
#[template(path = "outline.html")]
struct OutlineTemplate {
    here: &'static str,
    version: Version,
    page: OutlinePage,
    /// Strokes saved now and strokes painted here, where another hand was faster.
    both: Option<[usize; 2]>,
}

fn not_measured(why: OutlineError) -> Answer {
    match why {
        OutlineError::Missing => Answer::missing("photo"),
        OutlineError::Store(why) => Answer::store(why),
        OutlineError::Picture(_) => {
            Answer::no(StatusCode::INTERNAL_SERVER_ERROR, "The picture is damaged", why.to_string())
        }
    }
}

/// The outline of a tree on a photo.
pub async fn outline(State(app): Given, Path(key): Path<String>) -> Told {
    outline_page(&app, &key, None)
}

/// The same with paint that another hand overtook.
fn outline_page(app: &App, key: &str, typed: Option<&str>) -> Told {
    let whole = app.whole()?;
    let reader = app.reader();
    let mut page = view::limbs::outline::outline(&whole, &reader, key).map_err(not_measured)?;
    let both = typed.map(|typed| {
        [&page.strokes, typed].map(|strokes| strokes.split(';').filter(|it| !it.trim().is_empty()).count())
    });
    if let Some(typed) = typed {
        page.strokes = typed.into();
    }
    Answer::page(&OutlineTemplate { here: "", version: whole.version.clone(), page, both })
}

/// The outline as a picture to lay over the photo.
pub async fn overlay(State(app): Given, Path(key): Path<String>) -> Result<Response, Answer> {
    let whole = app.whole()?;
    let reader = app.reader();
    let told = view::limbs::outline::overlay(&whole, &reader, &key).map_err(not_measured)?;
    let bytes = told.ok_or_else(|| Answer::missing("outline"))?;
    Ok(([(header::CONTENT_TYPE, "image/png"), (header::CACHE_CONTROL, "no-cache")], bytes).into_response())
}

/// Keeps what was painted over an outline, or takes all of it off.
pub async fn paint(
    State(app): Given,
    Path(key): Path<String>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let strokes = if fields.of("clear") == "yes" { "" } else { fields.of("strokes") };
    match edit(&app, &fields, Record::photo(&key), |store| photo::brush(store, &key, strokes))? {
        Ok(()) => Ok(Answer::See(format!("/photos/{key}/outline")).into_response()),
        Err(FormError::Store(Error::ChangedMeanwhile { .. } | Error::OtherHistory)) => {
            let page = outline_page(&app, &key, Some(strokes))?;
            Ok((StatusCode::CONFLICT, page).into_response())
        }
        Err(why) => Err(Answer::form(why, String::new())),
    }
}
