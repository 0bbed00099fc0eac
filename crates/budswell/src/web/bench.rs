//! The bench card, and the cuts that are written down on it.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Path, State},
    http::StatusCode,
    response::{IntoResponse, Response},
};
use collection::intention::CutKind;
use intake::{
    asked::Asked,
    limbs::plan::{self, CutForm, CutTold},
};
use state::work::Work;
use view::{
    limbs::{
        bench::{BenchCard, card},
        draw::{Drawn, front as drawn},
    },
    verdicts::{self, Line},
};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again},
    asked,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

#[derive(Template)]
#[template(path = "bench.html")]
struct BenchTemplate {
    here: &'static str,
    page: BenchCard,
    drawn: Option<Drawn>,
    cuts: Vec<(&'static str, &'static str)>,
    may: Vec<Line>,
    against: Option<String>,
    refused: Refused,
}

fn bench_page(app: &App, key: &str, against: Option<String>, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let cuts = CutKind::ALL.map(|kind| (kind.key(), kind.words())).to_vec();
    Answer::page(&BenchTemplate {
        here: "",
        page: card(&whole, tree),
        drawn: drawn(&whole, tree),
        cuts,
        may: verdicts::may(
            &whole,
            tree,
            &[Work::HardPrune, Work::Trim, Work::Pinch, Work::Defoliate, Work::Decandle],
        ),
        against,
        refused,
    })
}

/// The bench card.
pub async fn bench(State(app): Given, Path(key): Path<String>) -> Told {
    bench_page(&app, &key, None, Refused::default())
}

/// Writes down a cut; one against what is meant is asked about first.
pub async fn cut(
    State(app): Given,
    Path(key): Path<String>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let (units, today) = (app.whole()?.units(), app.today()?);
    let unwise = asked::against_word(&app, &key, asked::work_of_cut(fields.of("kind")), fields.of("day"))?;
    let form = CutForm {
        tree: &key,
        limb: fields.of("limb"),
        day: fields.of("day"),
        kind: fields.of("kind"),
        nodes: fields.of("nodes"),
        wound: fields.of("wound"),
        sealed: fields.of("sealed") == "yes",
        note: fields.of("note"),
        asked: Asked { against: unwise.as_deref(), despite: fields.of("despite") },
    };
    match app.change(|store| Ok(plan::cut(store, form, units, today)))? {
        Ok(CutTold::Kept) => Ok(Answer::See(format!("/trees/{key}/bench#cut")).into_response()),
        Ok(CutTold::Against(it, kind)) => {
            let whole = app.whole()?;
            let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
            let day = unwise.as_ref().map(|why| format!(" Nor is it advised that day: {why}."));
            let words = view::limbs::bench::against(&whole, tree, &it, kind) + &day.unwrap_or_default();
            let typed = Refused::new("cut", words.clone(), fields);
            let page = bench_page(&app, &key, Some(words), typed)?;
            Ok((StatusCode::CONFLICT, page).into_response())
        }
        Err(why) => again(why, "cut", fields, |refused| bench_page(&app, &key, None, refused)),
    }
}
