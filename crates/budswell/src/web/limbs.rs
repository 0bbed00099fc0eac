//! A tree's branches: what each is for, the bench card, and what is written down about them.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, Query, State},
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};
use collection::intention::CutKind;
use intake::limbs::{
    self, CaliperForm, LimbForm, front,
    plan::{self, CutForm, CutTold, WishForm},
};
use serde::Deserialize;
use view::{
    limbs::{
        LimbsPage,
        bench::{BenchCard, card},
        draw::{Drawn, OnPhoto, front as drawn, on_photo},
        findings::{Finding, findings},
        plans::{Other, PlansPage},
    },
    photos::hours,
};

use crate::web::{
    App,
    answer::{Answer, Fields, Typed},
    photos::parts,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;

#[derive(Template)]
#[template(path = "limbs.html")]
struct LimbsTemplate {
    here: &'static str,
    page: LimbsPage,
    drawn: Option<Drawn>,
    on_photo: Option<OnPhoto>,
    findings: Vec<Finding>,
    rules_off: Vec<(&'static str, &'static str)>,
    hours: Vec<(u8, String)>,
}

/// The branches of a tree.
pub async fn page(State(app): Given, Path(key): Path<String>) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
    let (findings, rules_off) = findings(&whole, tree);
    Answer::page(&LimbsTemplate {
        here: "",
        page: view::limbs::limbs(&whole, tree),
        drawn: drawn(&whole, tree),
        on_photo: on_photo(&whole, tree),
        findings,
        rules_off,
        hours: hours(),
    })
}

/// What was typed of a cut.
#[derive(Debug, Default)]
struct TypedCut {
    limb: String,
    kind: String,
    nodes: String,
    wound: String,
    sealed: bool,
    day: String,
    note: String,
}

#[derive(Template)]
#[template(path = "bench.html")]
struct BenchTemplate {
    here: &'static str,
    page: BenchCard,
    drawn: Option<Drawn>,
    cuts: Vec<(&'static str, &'static str)>,
    bleeding: Option<String>,
    against: Option<String>,
    typed: TypedCut,
}

fn bench_page(app: &App, key: &str, against: Option<String>, typed: TypedCut) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let cuts = CutKind::ALL.map(|kind| (kind.key(), kind.words())).to_vec();
    Answer::page(&BenchTemplate {
        here: "",
        page: card(&whole, tree),
        drawn: drawn(&whole, tree),
        cuts,
        bleeding: view::limbs::layers::bleeding(&whole, tree),
        against,
        typed,
    })
}

/// The bench card.
pub async fn bench(State(app): Given, Path(key): Path<String>) -> Told {
    bench_page(&app, &key, None, TypedCut::default())
}

/// Writes down a cut; one against what is meant is asked about first.
pub async fn cut(
    State(app): Given,
    Path(key): Path<String>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let of = |name: &str| fields.of(name).to_string();
    let (units, today) = (app.whole()?.units(), app.today()?);
    let form = CutForm {
        tree: &key,
        limb: fields.of("limb"),
        day: fields.of("day"),
        kind: fields.of("kind"),
        nodes: fields.of("nodes"),
        wound: fields.of("wound"),
        sealed: fields.of("sealed") == "yes",
        despite: fields.of("despite"),
        note: fields.of("note"),
    };
    let told = app
        .change(|store| plan::cut(store, form, units, today).map_err(|why| Answer::form(why, of("note"))))?;
    match told {
        CutTold::Kept => Ok(Answer::See(format!("/trees/{key}/bench#cut")).into_response()),
        CutTold::Against(it, kind) => {
            let whole = app.whole()?;
            let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
            let words = view::limbs::bench::against(&whole, tree, &it, kind);
            let typed = TypedCut {
                limb: of("limb"),
                kind: of("kind"),
                nodes: of("nodes"),
                wound: of("wound"),
                sealed: form.sealed,
                day: of("day"),
                note: of("note"),
            };
            let page = bench_page(&app, &key, Some(words), typed)?;
            Ok((StatusCode::CONFLICT, page).into_response())
        }
    }
}

fn back(key: &str, limb: &str) -> Answer {
    Answer::See(format!("/trees/{key}/limbs#limb-{limb}"))
}

/// Writes down what is meant for a limb.
pub async fn intend(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let form = WishForm {
        tree: &key,
        limb: fields.of("limb"),
        wish: fields.of("wish"),
        until: fields.of("until"),
        nodes: fields.of("nodes"),
        by: fields.of("by"),
        which: fields.of("which"),
        why: fields.of("why"),
    };
    let (units, today) = (app.whole()?.units(), app.today()?);
    let typed = format!("{}\n{}", form.which, form.why);
    app.change(|store| plan::intend(store, form, units, today).map_err(|why| Answer::form(why, typed)))?;
    Ok(back(&key, form.limb))
}

/// Ends what is meant for a limb.
pub async fn end(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Told {
    let (how, today) = (fields.of("how"), app.today()?);
    app.change(|store| {
        plan::end(store, &key, id, how, today).map_err(|why| Answer::form(why, how.to_string()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/limbs")))
}

/// Writes down how many buds broke behind a cut.
pub async fn count(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Told {
    let (broke, of) = (fields.of("broke"), fields.of("of"));
    app.change(|store| {
        plan::count_buds(store, &key, id, broke, of)
            .map_err(|why| Answer::form(why, format!("{broke} of {of}")))
    })?;
    Ok(Answer::See(format!("/trees/{key}/plans")))
}

/// Writes down a caliper reading.
pub async fn caliper(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let form = CaliperForm {
        tree: &key,
        limb: fields.of("limb"),
        day: fields.of("day"),
        along: fields.of("along"),
        thick: fields.of("thick"),
    };
    let (units, today) = (app.whole()?.units(), app.today()?);
    app.change(|store| {
        limbs::caliper(store, form, units, today).map_err(|why| Answer::form(why, form.thick.to_string()))
    })?;
    Ok(back(&key, form.limb))
}

/// Changes a limb's record.
pub async fn record(
    State(app): Given,
    Path((key, limb)): Path<(String, String)>,
    Typed(fields): Typed<Fields>,
) -> Told {
    let form = LimbForm {
        tree: &key,
        limb: &limb,
        name: fields.of("name"),
        clock: fields.of("clock"),
        tips: fields.of("tips"),
    };
    app.change(|store| {
        limbs::limb_record(store, form).map_err(|why| Answer::form(why, form.name.to_string()))
    })?;
    Ok(back(&key, &limb))
}

/// Switches a rule off for a tree, or on again.
pub async fn rule(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let (rule, on) = (fields.of("rule"), fields.of("on") == "yes");
    app.change(|store| {
        front::rule(store, &key, rule, on).map_err(|why| Answer::form(why, rule.to_string()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/limbs#reading")))
}

/// The tree as a Multiscale Tree Graph.
pub async fn graph(State(app): Given, Path(key): Path<String>) -> Result<Response, Answer> {
    let whole = app.whole()?;
    let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
    let text = view::limbs::graph(&whole, tree)
        .map_err(|why| Answer::no(StatusCode::NOT_FOUND, "No branches yet", why.to_string()))?;
    let name = format!("attachment; filename=\"{key}.mtg\"");
    let heads = [
        (header::CONTENT_TYPE, "text/plain; charset=utf-8".to_string()),
        (header::CONTENT_DISPOSITION, name),
    ];
    Ok((heads, text).into_response())
}

/// Takes a Multiscale Tree Graph in as the limbs of a tree that has none.
pub async fn take_graph(State(app): Given, Path(key): Path<String>, given: Multipart) -> Told {
    let parts = parts(given).await?;
    let text = String::from_utf8_lossy(&parts.bytes).into_owned();
    let today = app.today()?;
    app.change(|store| {
        limbs::graph::take(store, &key, &text, today).map_err(|why| Answer::form(why, String::new()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/limbs")))
}

/// The other plan that the address asks for.
#[derive(Debug, Default, Deserialize)]
pub struct Wish {
    #[serde(default)]
    plan: String,
    #[serde(default)]
    limb: String,
    #[serde(default)]
    wish: String,
    #[serde(default)]
    nodes: String,
}

#[derive(Template)]
#[template(path = "plans.html")]
struct PlansTemplate {
    here: &'static str,
    page: PlansPage,
    asked: Wish,
    asked_limb: u32,
}

/// What the plan will do.
pub async fn plans(State(app): Given, Path(key): Path<String>, Query(asked): Query<Wish>) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(&key).ok_or_else(|| Answer::missing("tree"))?;
    let other = Other { plan: &asked.plan, limb: &asked.limb, wish: &asked.wish, nodes: &asked.nodes };
    let page = view::limbs::plans::plans(&whole, tree, other);
    let asked_limb = asked.limb.parse().unwrap_or(0);
    Answer::page(&PlansTemplate { here: "", page, asked, asked_limb })
}
