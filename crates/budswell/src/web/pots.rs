//! Pots: the shelf, one pot's record, its photos and the colour read off them.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, Query, State},
    http::header,
    response::{IntoResponse, Response},
};
use intake::{
    photo,
    shelf::{self, GlazeError, GlazeForm, PotForm, WhereaboutsForm},
};
use serde::Deserialize;
use store::{
    photo::Size,
    version::{Record, Version},
};
use view::{
    pots::{
        Asked, PotsPage, State as How,
        record::{Blank, GlazePage, RecordPage, blank, glaze, record},
    },
    stands,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again_or_clash as again, again_or_stands, edit as edit_from},
    photos::{Parts, parts},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

/// What the address asks for.
#[derive(Debug, Default, Deserialize)]
pub struct Wish {
    #[serde(default)]
    words: String,
    #[serde(default)]
    from: String,
    #[serde(default)]
    to: String,
    #[serde(default)]
    colour: String,
    #[serde(default)]
    free: String,
    #[serde(default)]
    said: u64,
}

impl Wish {
    /// Whether anything is asked for.
    fn asks(&self) -> bool {
        [&self.words, &self.from, &self.to, &self.colour, &self.free].iter().any(|it| !it.is_empty())
    }
}

#[derive(Template)]
#[template(path = "pots.html")]
struct PotsTemplate {
    here: &'static str,
    page: PotsPage,
    wish: Wish,
    told: String,
}

/// Every pot, or those that are asked for.
pub async fn pots(State(app): Given, Query(wish): Query<Wish>) -> Told {
    let asked =
        Asked { words: &wish.words, from: &wish.from, to: &wish.to, colour: &wish.colour, free: &wish.free };
    let page = view::pots::pots(&*app.whole()?, asked);
    let told = app.said(wish.said)?;
    Answer::page(&PotsTemplate { here: "pots", page, wish, told })
}

#[derive(Template)]
#[template(path = "pot_new.html")]
struct NewTemplate {
    here: &'static str,
    page: Blank,
    refused: Refused,
}

fn new_page(app: &App, refused: Refused) -> Told {
    let page = blank(app.whole()?.units());
    Answer::page(&NewTemplate { here: "pots", page, refused })
}

/// A form for a pot.
pub async fn new(State(app): Given) -> Told {
    new_page(&app, Refused::default())
}

fn form(fields: &Fields) -> PotForm<'_> {
    let of = |name: &str| fields.of(name);
    PotForm {
        name: of("name"),
        shape: of("shape"),
        outline: of("outline"),
        length: of("length"),
        width: of("width"),
        corner: of("corner"),
        middle_length: of("middle_length"),
        middle_width: of("middle_width"),
        bottom_length: of("bottom_length"),
        bottom_width: of("bottom_width"),
        height: of("height"),
        feet: of("feet"),
        floor: of("floor"),
        thick: of("thick"),
        lip: of("lip"),
        gap: of("gap"),
        measured: of("measured"),
        finish: of("finish"),
        clay: of("clay"),
        fired: of("fired"),
        drain_holes: of("drain_holes"),
        hole: of("hole"),
        tie_holes: of("tie_holes"),
        feel: of("feel"),
        features: of("features"),
        swatch: of("swatch"),
        // A colour that is chosen stands in place of the one that stood.
        l: if of("swatch").is_empty() { of("l") } else { "" },
        a: if of("swatch").is_empty() { of("a") } else { "" },
        b: if of("swatch").is_empty() { of("b") } else { "" },
        empty: of("empty"),
        maker: of("maker"),
        mark: of("mark"),
        kiln: of("kiln"),
        origin: of("origin"),
        era: of("era"),
        bought: of("bought"),
        paid: of("paid"),
        seller: of("seller"),
        condition: of("condition"),
        worth: of("worth"),
        worth_day: of("worth_day"),
        spot: of("spot"),
        training: of("training") == "yes",
        count: of("count"),
        note: of("note"),
    }
}

/// Adds a pot.
pub async fn add(State(app): Given, Typed(fields): Typed<Fields>) -> Taken {
    let (units, today) = (app.whole()?.units(), app.today()?);
    match app.change(|store| Ok(shelf::add_pot(store, &form(&fields), units, today)))? {
        Ok(key) => Ok(Answer::See(format!("/pots/{key}")).into_response()),
        Err(why) => again(&app, why, "pot", fields, |refused| new_page(&app, refused)),
    }
}

#[derive(Template)]
#[template(path = "pot.html")]
struct PotTemplate {
    here: &'static str,
    version: Version,
    page: RecordPage,
    told: String,
    refused: Refused,
}

pub(super) fn pot_page(app: &App, key: &str, told: String, refused: Refused) -> Told {
    let whole = app.whole()?;
    let page = record(&whole, key).ok_or_else(|| Answer::missing("pot"))?;
    Answer::page(&PotTemplate { here: "pots", version: whole.version.clone(), page, told, refused })
}

/// What the page of a pot has to say once.
#[derive(Debug, Default, Deserialize)]
pub struct Saying {
    #[serde(default)]
    said: u64,
}

/// One pot's record.
pub async fn pot(State(app): Given, Path(key): Path<String>, Query(saying): Query<Saying>) -> Told {
    pot_page(&app, &key, app.said(saying.said)?, Refused::default())
}

/// Changes a pot's record.
pub async fn edit(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let (units, today) = (app.whole()?.units(), app.today()?);
    let revision = fields.of("revision");
    match app.change(|store| Ok(shelf::edit_pot(store, &key, revision, &form(&fields), units, today)))? {
        Ok(()) => Ok(Answer::See(format!("/pots/{key}")).into_response()),
        Err(why) => again(&app, why, "pot", fields, |refused| pot_page(&app, &key, String::new(), refused)),
    }
}

/// On to a page that says what an act came to; it was saved, so that a fault on the way leaves the words out and nothing else.
fn saved(app: &App, page: String, words: impl FnOnce(&Whole) -> String) -> Taken {
    let said = app.whole().and_then(|whole| app.say(words(&whole)));
    Ok(Answer::See(said.map_or(page.clone(), |said| format!("{page}?said={said}"))).into_response())
}

/// Writes down where a pot is; a broken one frees its tree to a box and the page says so.
pub async fn whereabouts(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let form = WhereaboutsForm {
        pot: &key,
        whereabouts: fields.of("where"),
        spot: fields.of("spot"),
        into: fields.of("into"),
        revision: fields.of("revision"),
    };
    let today = app.today()?;
    match app.change(|store| Ok(shelf::whereabouts(store, form, today)))? {
        Ok(told) if told.freed.is_empty() && told.ended.is_empty() => {
            Ok(Answer::See(format!("/pots/{key}")).into_response())
        }
        Ok(told) => saved(&app, format!("/pots/{key}"), |whole| {
            view::pots::record::became(whole, &told.freed, &told.ended)
        }),
        Err(why) => again(&app, why, "where", fields, |refused| pot_page(&app, &key, String::new(), refused)),
    }
}

/// Strikes a pot off the list.
pub async fn strike(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let revision = fields.of("revision");
    match app.change(|store| Ok(shelf::delete_pot(store, &key, revision)))? {
        Ok(ended) if ended.is_empty() => Ok(Answer::See("/pots".into()).into_response()),
        Ok(ended) => saved(&app, "/pots".into(), |whole| view::pots::record::became(whole, &[], &ended)),
        Err(why) => again(&app, why, "where", fields, |refused| pot_page(&app, &key, String::new(), refused)),
    }
}

/// Takes a photo of a pot.
pub async fn send_photo(State(app): Given, Path(key): Path<String>, given: Multipart) -> Taken {
    let Parts { fields, bytes } = parts(given).await?;
    let today = app.today()?;
    let (side, day) = (fields.of("side"), fields.of("day"));
    let kept = match photo::opened(&bytes) {
        Ok(opened) => app.change(|store| Ok(shelf::pot_photo(store, &key, &opened, side, day, today)))?,
        Err(why) => Err(why),
    };
    match kept {
        Ok(_) => Ok(Answer::See(format!("/pots/{key}#photos")).into_response()),
        Err(why) => again(&app, why, "photo", fields, |refused| pot_page(&app, &key, String::new(), refused)),
    }
}

/// The pot that a photo is of.
fn pot_of(app: &App, photo: &str) -> Result<String, Answer> {
    let whole = app.whole()?;
    let photo = whole.shelf.photos.iter().find(|it| it.key == photo);
    Ok(photo.ok_or_else(|| Answer::missing("photo"))?.pot.clone())
}

/// Takes a photo of a pot back.
pub async fn drop_photo(State(app): Given, Path(photo): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let pot = pot_of(&app, &photo)?;
    let record = Record::pot_photo(&photo);
    match edit_from(&app, &fields, [record], |store| shelf::remove_pot_photo(store, &pot, &photo))? {
        Ok(()) => Ok(Answer::See(format!("/pots/{pot}#photos")).into_response()),
        Err(why) => again(&app, why, "photo", fields, |refused| pot_page(&app, &pot, String::new(), refused)),
    }
}

/// A photo's picture.
pub async fn picture(State(app): Given, Path((key, size)): Path<(String, String)>) -> Taken {
    let size = match size.as_str() {
        "full" => Size::Full,
        "small" => Size::Small,
        _ => return Err(Answer::missing("picture")),
    };
    let reader = app.reader();
    let bytes =
        reader.pot_picture(&key, size).map_err(Answer::store)?.ok_or_else(|| Answer::missing("photo"))?;
    let kept = [(header::CONTENT_TYPE, "image/jpeg"), (header::CACHE_CONTROL, "private, no-cache")];
    Ok((kept, bytes).into_response())
}

#[derive(Template)]
#[template(path = "glaze.html")]
struct GlazeTemplate {
    here: &'static str,
    page: GlazePage,
    refused: Refused,
}

fn glaze_page(app: &App, photo: &str, refused: Refused) -> Told {
    let page = glaze(&*app.whole()?, photo).ok_or_else(|| Answer::missing("photo"))?;
    Answer::page(&GlazeTemplate { here: "pots", page, refused })
}

/// The page on which card and glaze are marked.
pub async fn mark_glaze(State(app): Given, Path(photo): Path<String>) -> Told {
    glaze_page(&app, &photo, Refused::default())
}

/// Reads the colour of a glaze and keeps it.
pub async fn read_glaze(State(app): Given, Path(photo): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let corner = |box_: &str| {
        ["left", "top", "wide", "high"].map(|edge| fields.of(&format!("{box_}_{edge}")).to_string())
    };
    let (card, pot) = (corner("card"), corner("pot"));
    let form = GlazeForm {
        photo: &photo,
        card: card.each_ref().map(String::as_str),
        pot: pot.each_ref().map(String::as_str),
        reflectance: fields.of("reflectance"),
        revision: fields.of("revision"),
    };
    let pot = pot_of(&app, &photo)?;
    let measured = shelf::measure_glaze(&app.reader(), form);
    let kept = match measured {
        Ok(measured) => app.change(|store| Ok(shelf::keep_glaze(store, measured)))?.map_err(GlazeError::Form),
        Err(why) => Err(why),
    };
    match kept {
        Ok(reading) => {
            let said = app.say(view::pots::record::was_read(&reading))?;
            Ok(Answer::See(format!("/pots/{pot}?said={said}")).into_response())
        }
        Err(GlazeError::Form(why)) => {
            let stands = |whole: &Whole| Some(stands::glaze(whole, &photo));
            again_or_stands(&app, why, "glaze", fields, stands, |refused| glaze_page(&app, &photo, refused))
        }
        Err(GlazeError::Photo(why)) => {
            let page = glaze_page(&app, &photo, Refused::new("glaze", why.to_string(), fields))?;
            Ok((axum::http::StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}
