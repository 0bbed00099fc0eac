//! Pots for trees: one tree's candidates, the whole shelf at once, the grower's word, likings and rules.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, Query, State},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use intake::{
    record::FormError,
    shelf::{self, GrownForm, ReserveError, ReserveForm, StatureForm, TintForm},
};
use serde::Deserialize;
use store::{
    store::Store,
    version::{Daily, Record, Version},
};
use view::{
    pots::{
        lists::{TreeLists, tree_lists},
        pairs::PairsPage,
        record::{Lists, lists},
        share::SharePage,
        wanted::Wanted,
    },
    stands,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again_or_clash as again, again_or_stands, edit},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

#[derive(Template)]
#[template(path = "pairs.html")]
struct PairsTemplate {
    here: &'static str,
    version: Version,
    page: PairsPage,
    lists: TreeLists,
    refused: Refused,
}

fn pairs_page(app: &App, key: &str, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let page = view::pots::pairs::pairs(&whole, tree);
    let version = whole.version.clone();
    Answer::page(&PairsTemplate { here: "pots", version, page, lists: tree_lists(), refused })
}

/// The pots for one tree.
pub async fn of_tree(State(app): Given, Path(key): Path<String>) -> Told {
    pairs_page(&app, &key, Refused::default())
}

/// A pot to think of buying.
#[derive(Debug, Default, Deserialize)]
pub struct Buy {
    #[serde(default)]
    shape: String,
    #[serde(default)]
    length: String,
    #[serde(default)]
    width: String,
    #[serde(default)]
    height: String,
    #[serde(default)]
    finish: String,
    #[serde(default)]
    swatch: String,
}

#[derive(Template)]
#[template(path = "share.html")]
struct ShareTemplate {
    here: &'static str,
    page: SharePage,
    wish: Buy,
    lists: Lists,
    refused: Refused,
}

fn share_page(app: &App, wish: Buy, refused: Refused) -> Told {
    let whole = app.whole()?;
    let wanted = Wanted {
        shape: &wish.shape,
        length: &wish.length,
        width: &wish.width,
        height: &wish.height,
        finish: &wish.finish,
        swatch: &wish.swatch,
    };
    let page = view::pots::share::share(&whole, (!wish.length.is_empty()).then_some(&wanted));
    Answer::page(&ShareTemplate { here: "pots", page, lists: lists(whole.units()), wish, refused })
}

/// The whole shelf at once.
pub async fn share(State(app): Given, Query(wish): Query<Buy>) -> Told {
    share_page(&app, wish, Refused::default())
}

/// The page that a word was said on.
fn page_of(app: &App, pot: &str, tree: &str, back: &str, refused: Refused) -> Told {
    match back {
        "tree" => pairs_page(app, tree, refused),
        "share" => share_page(app, Buy::default(), refused),
        _ => super::pots::pot_page(app, pot, String::new(), refused),
    }
}

/// Says a word of a pot and a tree.
pub async fn reserve(State(app): Given, Path(pot): Path<String>, Typed(mut fields): Typed<Fields>) -> Taken {
    fields.add("pot", pot.clone());
    let form = ReserveForm {
        pot: &pot,
        tree: fields.of("tree"),
        season: fields.of("season"),
        said: fields.of("said"),
        why: fields.of("why"),
        despite: fields.of("despite"),
        revision: fields.of("revision"),
    };
    let unfit = view::pots::unfit::unfit(&*app.whole()?, fields.of("tree"), &pot);
    let today = app.today()?;
    let back = fields.of("back");
    if back == "tree" {
        app.whole()?.tree(fields.of("tree")).ok_or_else(|| Answer::missing("tree"))?;
    }
    let (tree, back) = (fields.of("tree").to_string(), fields.of("back").to_string());
    match app.change(|store| Ok(shelf::reserve(store, form, unfit.as_deref(), today)))? {
        Ok(_) => Ok(Answer::See(match back.as_str() {
            "tree" => format!("/trees/{tree}/pots"),
            "share" => "/pots/share".into(),
            _ => format!("/pots/{pot}#said"),
        })
        .into_response()),
        Err(ReserveError::Form(why)) => {
            let season = fields.of("season").to_string();
            let stands = |whole: &Whole| Some(stands::said(whole, &pot, &season));
            let page = |refused| page_of(&app, &pot, &tree, &back, refused);
            again_or_stands(&app, why, "reserve", fields, stands, page)
        }
        Err(ReserveError::Asked(ask)) => {
            let page = page_of(&app, &pot, &tree, &back, Refused::new("reserve", ask.to_string(), fields))?;
            Ok((StatusCode::CONFLICT, page).into_response())
        }
    }
}

/// Takes a word back.
pub async fn unreserve(State(app): Given, Path(pot): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let [tree, season, revision] = ["tree", "season", "revision"].map(|name| fields.of(name));
    match app.change(|store| Ok(shelf::unreserve(store, [&pot, tree], season, revision)))? {
        Ok(()) => Ok(Answer::See(format!("/pots/{pot}#said")).into_response()),
        Err(why) => again(&app, why, "reserve", fields, |refused| page_of(&app, &pot, "", "", refused)),
    }
}

/// Keeps which of two pots was liked better for a tree.
pub async fn like(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let today = app.today()?;
    let [liked, over] = ["liked", "over"].map(|name| fields.of(name).to_string());
    written(&app, &key, "liking", fields, |store| shelf::like(store, &key, &liked, &over, today).map(drop))
}

/// Writes something of a tree down, and shows its pots again.
fn written(
    app: &App,
    key: &str,
    form: &'static str,
    fields: Fields,
    write: impl FnOnce(&mut Store) -> Result<(), FormError>,
) -> Taken {
    match app.change(|store| Ok(write(store)))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/pots")).into_response()),
        Err(why) => again(app, why, form, fields, |refused| pairs_page(app, key, refused)),
    }
}

/// Changes something of a tree that stands, and shows its pots again.
fn edited(
    app: &App,
    key: &str,
    (form, stands): (&'static str, impl Fn(&Whole) -> Option<String>),
    fields: Fields,
    record: Record,
    change: impl FnOnce(&mut Store) -> Result<(), FormError>,
) -> Taken {
    match edit(app, &fields, [record], change)? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/pots")).into_response()),
        Err(why) => again_or_stands(app, why, form, fields, stands, |refused| pairs_page(app, key, refused)),
    }
}

/// Writes down how large a tree is.
pub async fn stature(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let (units, today) = (app.whole()?.units(), app.today()?);
    let [day, height, trunk] = ["day", "height", "trunk"].map(|name| fields.of(name).to_string());
    let on = day.trim().parse().unwrap_or(today);
    let record = Record::daily(Daily::Stature, &key, on);
    let stands = |whole: &Whole| Some(stands::stature(whole, whole.tree(&key)?, on));
    edited(&app, &key, ("stature", stands), fields, record, |store| {
        let form = StatureForm { tree: &key, day: &day, height: &height, trunk: &trunk };
        shelf::stature(store, form, units, today)
    })
}

/// Writes down how a tree is grown.
pub async fn grown(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let names = ["style", "kind", "feel", "age", "shown", "asked"];
    let [style, kind, feel, age, shown, asked] = names.map(|name| fields.of(name).to_string());
    edited(&app, &key, ("grown", |_: &Whole| None), fields, Record::grown(&key), |store| {
        let form = GrownForm {
            tree: &key,
            style: &style,
            kind: &kind,
            feel: &feel,
            age: &age,
            shown: &shown,
            asked: &asked,
        };
        shelf::grown(store, form)
    })
}

/// Writes down a colour of a tree.
pub async fn tint(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let [season, swatch] = ["season", "swatch"].map(|name| fields.of(name).to_string());
    let stands = |whole: &Whole| Some(stands::tint(whole.tree(&key)?, &season));
    edited(&app, &key, ("tint", stands), fields, Record::tint(&key, &season), |store| {
        let form = TintForm { tree: &key, season: &season, swatch: &swatch, ..TintForm::default() };
        shelf::tint(store, form)
    })
}

/// Switches a rule about pots.
pub async fn rule(State(app): Given, Typed(fields): Typed<Fields>) -> Taken {
    let tree = fields.of("tree").to_string();
    app.whole()?.tree(&tree).ok_or_else(|| Answer::missing("tree"))?;
    let (rule, off) = (fields.of("rule").to_string(), fields.of("off") == "yes");
    match app.change(|store| Ok(shelf::pot_rule(store, &rule, off)))? {
        Ok(_) => Ok(Answer::See(format!("/trees/{tree}/pots#rules")).into_response()),
        Err(why) => again(&app, why, "rule", fields, |refused| pairs_page(&app, &tree, refused)),
    }
}
