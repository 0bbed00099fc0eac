//! A tree's branches: what each is for, and what is written down about them.

use std::sync::Arc;

use askama::Template;
use axum::{
    extract::{Multipart, Path, State},
    http::{StatusCode, header},
    response::{IntoResponse, Response},
};
use intake::limbs::{
    self, CaliperForm, LimbForm,
    back::{Written, take_back},
    front::{self, AimForm},
    plan::{self, WishForm},
};
use state::work::Work;
use store::version::{Numbered, Record, Version};
use view::{
    limbs::{
        LimbRow, LimbsPage,
        draw::{Drawn, OnPhoto, front as drawn, on_photo},
        findings::{Finding, findings},
        written::{WrittenLine, written},
    },
    photos::hours,
    stands,
    whole::Whole,
};

use crate::web::{
    App,
    answer::{Answer, Fields, Refused, Typed, again, again_or_clash, again_or_stands, edit},
    photos::parts,
};

type Given = State<Arc<App>>;
type Told = Result<Answer, Answer>;
type Taken = Result<Response, Answer>;

#[derive(Template)]
#[template(path = "limbs.html")]
struct LimbsTemplate {
    here: &'static str,
    version: Version,
    page: LimbsPage,
    /// May it be cut or wired today.
    may: Vec<view::verdicts::Line>,
    drawn: Option<Drawn>,
    on_photo: Option<OnPhoto>,
    /// Those outside what is usual, a card for each rule.
    outside: Vec<Vec<Finding>>,
    /// Those inside it, likewise.
    kept: Vec<Vec<Finding>>,
    /// How many those are.
    kept_count: usize,
    /// How many limbs have no wish of their own.
    without: usize,
    /// Whether their list stands open: there are no others, or a form in it came back.
    fold_open: bool,
    /// Findings not told since nobody measured the diameters they compare.
    untold: usize,
    rules_off: Vec<(&'static str, &'static str)>,
    /// What was written down lately.
    written: Vec<WrittenLine>,
    hours: Vec<(u8, String)>,
    refused: Refused,
}

/// The branches of a tree.
pub async fn page(State(app): Given, Path(key): Path<String>) -> Told {
    limbs_page(&app, &key, Refused::default())
}

fn limbs_page(app: &App, key: &str, refused: Refused) -> Told {
    let whole = app.whole()?;
    let tree = whole.tree(key).ok_or_else(|| Answer::missing("tree"))?;
    let read = findings(&whole, tree);
    let (outside, kept): (Vec<_>, Vec<_>) = read.rows.into_iter().partition(|it| it.outside);
    let page = view::limbs::limbs(&whole, tree);
    let folded = || page.rows.iter().filter(|row| !has_own(row));
    Answer::page(&LimbsTemplate {
        here: "",
        version: whole.version.clone(),
        without: folded().count(),
        fold_open: page.rows.iter().all(|row| !has_own(row))
            || folded().any(|row| refused.is_on("limb", row.number)),
        page,
        may: view::verdicts::may(&whole, tree, &[Work::HardPrune, Work::Trim, Work::Pinch, Work::Wire]),
        drawn: drawn(&whole, tree),
        on_photo: on_photo(&whole, tree),
        outside: by_rule(outside),
        kept_count: kept.len(),
        kept: by_rule(kept),
        untold: read.untold,
        rules_off: read.switched,
        written: written(&whole, tree),
        hours: hours(),
        refused,
    })
}

/// Whether a wish stands for a limb itself, not only for the limb that bears it.
fn has_own(row: &LimbRow) -> bool {
    row.meant.as_ref().is_some_and(|meant| !meant.inherited)
}

/// Findings that follow each other under the same rule, together.
fn by_rule(findings: Vec<Finding>) -> Vec<Vec<Finding>> {
    findings.chunk_by(|one, next| one.rule == next.rule).map(<[Finding]>::to_vec).collect()
}

fn back(key: &str, limb: &str) -> Answer {
    Answer::See(format!("/trees/{key}/limbs#limb-{limb}"))
}

/// Where a form leads that stands on *Today* as well as on its own page.
pub(crate) fn or_today(fields: &Fields, own: Answer) -> Answer {
    if fields.of("back") == "today" { Answer::See("/".into()) } else { own }
}

/// Writes down what is meant for a limb.
pub async fn intend(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
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
    let limb = form.limb.to_string();
    match edit(&app, &fields, [Record::wish(&key, &limb)], |store| plan::intend(store, form, units, today))? {
        Ok(()) => Ok(or_today(&fields, back(&key, &limb)).into_response()),
        Err(why) => {
            let stands = |whole: &Whole| Some(stands::wish_of(whole, whole.tree(&key)?, &limb));
            again_or_stands(&app, why, "wish", fields, stands, |refused| limbs_page(&app, &key, refused))
        }
    }
}

/// Ends what is meant for a limb.
pub async fn end(
    State(app): Given,
    Path((key, id)): Path<(String, i64)>,
    Typed(mut fields): Typed<Fields>,
) -> Taken {
    fields.add("id", id.to_string());
    let (how, today, record) = (fields.of("how"), app.today()?, Record::numbered(Numbered::Intention, id));
    match edit(&app, &fields, [record], |store| plan::end(store, &key, id, how, today))? {
        Ok(()) => Ok(or_today(&fields, Answer::See(format!("/trees/{key}/limbs"))).into_response()),
        Err(why) => {
            let stands = |whole: &Whole| Some(stands::intention(whole, whole.tree(&key)?, id));
            again_or_stands(&app, why, "end", fields, stands, |refused| limbs_page(&app, &key, refused))
        }
    }
}

/// Writes down a caliper reading.
pub async fn caliper(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Taken {
    let form = CaliperForm {
        tree: &key,
        limb: fields.of("limb"),
        day: fields.of("day"),
        along: fields.of("along"),
        thick: fields.of("thick"),
    };
    let (units, today) = (app.whole()?.units(), app.today()?);
    match app.change(|store| Ok(limbs::caliper(store, form, units, today)))? {
        Ok(()) => Ok(back(&key, form.limb).into_response()),
        Err(why) => again(why, "caliper", fields, |refused| limbs_page(&app, &key, refused)),
    }
}

/// Changes a limb's record.
pub async fn record(
    State(app): Given,
    Path((key, limb)): Path<(String, String)>,
    Typed(mut fields): Typed<Fields>,
) -> Taken {
    fields.add("limb", limb.clone());
    let form = LimbForm {
        tree: &key,
        limb: &limb,
        name: fields.of("name"),
        clock: fields.of("clock"),
        tips: fields.of("tips"),
    };
    match edit(&app, &fields, [Record::limb(&key, &limb)], |store| limbs::limb_record(store, form))? {
        Ok(()) => Ok(back(&key, &limb).into_response()),
        Err(why) => again_or_clash(&app, why, "record", fields, |refused| limbs_page(&app, &key, refused)),
    }
}

fn numbered(what: Written) -> Numbered {
    match what {
        Written::Diameter => Numbered::Caliper,
        Written::Cut => Numbered::Cut,
        Written::Wish => Numbered::Intention,
        Written::Wire => Numbered::Wire,
        Written::Layer => Numbered::Layer,
        Written::Wound => Numbered::Wound,
    }
}

/// Takes back a line that was written down.
pub async fn drop_line(
    State(app): Given,
    Path((key, what, id)): Path<(String, String, i64)>,
    Typed(fields): Typed<Fields>,
) -> Told {
    let what = Written::from_key(&what).ok_or_else(|| Answer::missing("line"))?;
    let record = Record::numbered(numbered(what), id);
    edit(&app, &fields, [record], |store| take_back(store, &key, what, id))?
        .map_err(|why| Answer::form(why, String::new()))?;
    Ok(Answer::See(format!("/trees/{key}/limbs#written")))
}

/// Switches a rule off for a tree, or on again.
pub async fn rule(State(app): Given, Path(key): Path<String>, Typed(fields): Typed<Fields>) -> Told {
    let (rule, on) = (fields.of("rule"), fields.of("on") == "yes");
    app.change(|store| {
        front::rule(store, &key, rule, on).map_err(|why| Answer::form(why, rule.to_string()))
    })?;
    Ok(Answer::See(format!("/trees/{key}/limbs#reading")))
}

/// Saves what a tree shall become.
pub async fn aim(
    State(app): Given,
    Path(key): Path<String>,
    Typed(fields): Typed<Fields>,
) -> Result<Response, Answer> {
    let units = app.whole()?.units();
    let form = AimForm {
        tree: &key,
        high: fields.of("high"),
        trunk: fields.of("trunk"),
        needles: fields.of("needles"),
        shown: fields.of("shown"),
        words: fields.of("words"),
    };
    match edit(&app, &fields, [Record::aim(&key)], |store| front::aim(store, form, units))? {
        Ok(()) => Ok(Answer::See(format!("/trees/{key}/limbs#aim")).into_response()),
        Err(why) => {
            let stands = |whole: &Whole| Some(stands::aim(whole, whole.tree(&key)?));
            again_or_stands(&app, why, "aim", fields, stands, |refused| limbs_page(&app, &key, refused))
        }
    }
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
    let no = |why| Answer::form(why, String::new());
    let (graph, today) = (limbs::graph::read(&text).map_err(no)?, app.today()?);
    app.change(|store| limbs::graph::keep(store, &key, &graph, today).map_err(no))?;
    Ok(Answer::See(format!("/trees/{key}/limbs")))
}
