//! Repots: who is due, the bench before and after, soil and wire.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, State},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use collection::stock::Item;
use intake::{
    asked::Asked,
    photo,
    record::FormError,
    shelf::{
        self, Against, MeantForm, PotLookForm, RepotError, RepotForm, ShelfLine, StockForm, TollForm,
        VigourForm,
    },
};
use measure::quantity::Share;
use state::work::Work;
use store::{
    store::Store,
    version::{Daily, Numbered, Record, Version},
};
use view::{
    pots::lists::{TreeLists, tree_lists},
    repots::{RepotsPage, bench::RepotBench, goods::SoilPage},
    stands,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again_or_clash as again, again_or_stands, edit},
    asked,
    photos::{Parts, parts},
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

#[derive(Template)]
#[template(path = "repots.html")]
struct RepotsTemplate {
    here: &'static str,
    page: RepotsPage,
}

/// The season's repots.
pub async fn repots(State(app): Given) -> Told {
    let page = view::repots::repots(&*app.whole()?);
    Answer::page(&RepotsTemplate { here: "pots", page })
}

#[derive(Template)]
#[template(path = "repot.html")]
struct BenchTemplate {
    here: &'static str,
    version: Version,
    page: RepotBench,
    lists: TreeLists,
    refused: Refused,
}

fn bench_page(app: &App, key: &str, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let page = view::repots::bench::bench(&whole, tree);
    let version = whole.version.clone();
    Answer::page(&BenchTemplate { here: "pots", version, page, lists: tree_lists(), refused })
}

/// The bench of a tree.
pub async fn bench(State(app): Given, Path(key): Path<String>) -> Told {
    bench_page(&app, &key, Refused::default())
}

/// The log of a repot.
pub async fn log(State(app): Given, Path(key): Path<String>, given: Multipart) -> Taken {
    let Parts { fields, bytes } = parts(given).await?;
    let limit = limit(&app, &key)?;
    let unfit = view::pots::unfit::unfit(&*app.whole()?, &key, fields.of("pot"));
    let unwise = asked::against(&app, &key, Work::Repot, fields.of("day"))?;
    let against = Against { limit, unfit: unfit.as_deref(), verdict: unwise.as_deref() };
    let of = |name: &str| fields.of(name);
    let form = RepotForm {
        tree: &key,
        day: of("day"),
        pot: of("pot"),
        mix: of("mix"),
        cut: of("cut"),
        bare: of("bare") == "yes",
        found: of("found"),
        proud: of("proud"),
        clock: of("clock"),
        sideways: of("sideways"),
        forward: of("forward"),
        pad_length: of("pad_length"),
        pad_width: of("pad_width"),
        pad_depth: of("pad_depth"),
        took: of("took"),
        note: of("note"),
        subject: of("subject"),
        despite: of("despite"),
    };
    let (units, today) = (app.whole()?.units(), app.today()?);
    let logged = match (!bytes.is_empty()).then(|| photo::opened(&bytes)).transpose() {
        Ok(opened) => app.change(|store| {
            let photo = opened.as_ref().map(photo::Sent::from);
            Ok(shelf::repot(store, &form, photo, against, units, today))
        })?,
        Err(why) => Err(RepotError::Form(why)),
    };
    match logged {
        Ok(_) => Ok(Answer::See(format!("/trees/{key}/repot#care")).into_response()),
        Err(RepotError::Form(why)) => {
            again(&app, why, "log", fields, |refused| bench_page(&app, &key, refused))
        }
        Err(RepotError::Asked(ask)) => {
            let page = bench_page(&app, &key, Refused::new("log", ask.to_string(), fields))?;
            Ok((StatusCode::CONFLICT, page).into_response())
        }
    }
}

/// The most of the roots that a tree should lose today; none where nobody can say.
fn limit(app: &App, key: &str) -> Result<Option<Share>, Answer> {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    Ok(view::repots::case::limit(&whole, tree))
}

/// Writes something of a tree down, and shows its bench again.
fn written(
    app: &App,
    key: &str,
    form: &'static str,
    fields: Fields,
    write: impl FnOnce(&mut Store) -> Result<(), FormError>,
) -> Taken {
    match app.change(|store| Ok(write(store)))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/repot")).into_response()),
        Err(why) => again(app, why, form, fields, |refused| bench_page(app, key, refused)),
    }
}

/// Changes something of a tree that stands, and shows its bench again.
fn edited(
    app: &App,
    key: &str,
    (form, stands): (&'static str, impl Fn(&Whole) -> Option<String>),
    fields: Fields,
    record: Record,
    change: impl FnOnce(&mut Store) -> Result<(), FormError>,
) -> Taken {
    match edit(app, &fields, [record], change)? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/repot")).into_response()),
        Err(why) => again_or_stands(app, why, form, fields, stands, |refused| bench_page(app, key, refused)),
    }
}

/// Says whether a tree is repotted this season, with its cut and mix; or takes the word back.
pub async fn mean(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let today = app.today()?;
    let names = ["season", "repot", "cut", "mix", "why"];
    let [season, repot, cut, mix, why] = names.map(|name| fields.of(name).to_string());
    let (show, record) = (fields.of("show") == "yes", Record::meant(&key, &season));
    edited(&app, &key, ("mean", |_: &Whole| None), fields, record, |store| {
        if repot == "signs" {
            return shelf::clear_meant(store, &key, &season).map(drop);
        }
        let form =
            MeantForm { tree: &key, season: &season, repot: &repot, cut: &cut, mix: &mix, show, why: &why };
        shelf::meant(store, form, today)
    })
}

/// Writes down what was seen of a tree in its pot.
pub async fn look(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let today = app.today()?;
    let [day, drained, note] = ["day", "drained", "note"].map(|name| fields.of(name).to_string());
    let signs = ["twice_a_day", "rocks", "roots", "crumbled", "falling"];
    let [twice_a_day, rocks, roots, crumbled, falling] = signs.map(|name| fields.of(name) == "yes");
    let on = day.trim().parse().unwrap_or(today);
    let record = Record::daily(Daily::PotLook, &key, on);
    let stands = |whole: &Whole| Some(stands::pot_look(whole.tree(&key)?, on));
    edited(&app, &key, ("seen", stands), fields, record, |store| {
        let form = PotLookForm {
            tree: &key,
            day: &day,
            drained: &drained,
            twice_a_day,
            rocks,
            roots,
            crumbled,
            falling,
            note: &note,
        };
        shelf::pot_look(store, form, today)
    })
}

/// Writes down how strong a tree is.
pub async fn vigour(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let today = app.today()?;
    let [day, strength, why] = ["day", "strength", "why"].map(|name| fields.of(name).to_string());
    let on = day.trim().parse().unwrap_or(today);
    let record = Record::daily(Daily::Vigour, &key, on);
    let stands = |whole: &Whole| Some(stands::vigour(whole.tree(&key)?, on));
    edited(&app, &key, ("vigour", stands), fields, record, |store| {
        let form = VigourForm { tree: &key, day: &day, strength: &strength, why: &why };
        shelf::vigour(store, form, today)
    })
}

/// Writes down what a tree had to bear.
pub async fn toll(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let today = app.today()?;
    let names = ["day", "what", "amount", "note", "despite"];
    let [day, what, amount, note, despite] = names.map(|name| fields.of(name).to_string());
    let against = asked::against_word(&app, &key, asked::work_of_toll(&what), &day)?;
    written(&app, &key, "toll", fields, |store| {
        let asked = Asked { against: against.as_deref(), despite: &despite };
        let form = TollForm { tree: &key, day: &day, what: &what, amount: &amount, note: &note, asked };
        shelf::toll(store, form, today)
    })
}

/// Takes a line back.
pub async fn take_back(
    State(app): Given,
    Path((key, what, which)): Path<(String, String, String)>,
    Typed(fields): Typed<Fields>,
) -> Taken {
    let line = ShelfLine::from_key(&what, &which).ok_or_else(|| Answer::missing("line"))?;
    let record = match line {
        ShelfLine::Stature(day) => Record::daily(Daily::Stature, &key, day),
        ShelfLine::Vigour(day) => Record::daily(Daily::Vigour, &key, day),
        ShelfLine::PotLook(day) => Record::daily(Daily::PotLook, &key, day),
        ShelfLine::Repot(day) => Record::daily(Daily::Repot, &key, day),
        ShelfLine::Toll(id) => Record::numbered(Numbered::Toll, id),
    };
    let none = |_: &Whole| None;
    edited(&app, &key, ("back", none), fields, record, |store| shelf::take_back(store, &key, line))
}

#[derive(Template)]
#[template(path = "soil.html")]
struct SoilTemplate {
    here: &'static str,
    version: Version,
    page: SoilPage,
    refused: Refused,
}

fn soil_page(app: &App, refused: Refused) -> Told {
    let whole = app.whole()?;
    let page = view::repots::goods::soil(&whole);
    Answer::page(&SoilTemplate { here: "pots", version: whole.version.clone(), page, refused })
}

/// Soil and wire for the season.
pub async fn soil(State(app): Given) -> Told {
    soil_page(&app, Refused::default())
}

/// Counts something in the shed.
pub async fn stock(State(app): Given, Typed(fields): Typed<Fields>) -> Taken {
    let today = app.today()?;
    let names = ["item", "left", "pack", "delivery", "day"];
    let [item, left, pack, delivery, day] = names.map(|name| fields.of(name));
    let form = StockForm { item, left, pack, delivery, day };
    let item = Item::from_key(item.trim()).map_or_else(String::new, Item::key);
    match edit(&app, &fields, [Record::stock(&item)], |store| shelf::stock(store, form, today))? {
        Ok(()) => Ok(Answer::See("/soil".into()).into_response()),
        Err(why) => {
            // What the season needs has a row of its own that is filled already.
            let has_row =
                |whole: &Whole| view::repots::goods::soil(whole).lines.iter().any(|it| it.key == item);
            let stands = |whole: &Whole| (!has_row(whole)).then(|| stands::stock(whole, &item));
            again_or_stands(&app, why, "stock", fields, stands, |refused| soil_page(&app, refused))
        }
    }
}

/// Keeps what a mix is made of.
pub async fn blend(State(app): Given, Typed(fields): Typed<Fields>) -> Taken {
    let parts = fields.others(&["mix", "revision"]);
    let mix = fields.of("mix").to_string();
    match edit(&app, &fields, [Record::blend(&mix)], |store| shelf::blend(store, &mix, &parts))? {
        Ok(()) => Ok(Answer::See("/soil#mixes".into()).into_response()),
        Err(why) => again(&app, why, "blend", fields, |refused| soil_page(&app, refused)),
    }
}
