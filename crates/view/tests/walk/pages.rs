//! How each page is read: one function per page, which says what the page says of each tree.

use jiff::{Timestamp, civil::Date};
use state::work::Work;
use view::{
    limbs,
    repots::{RepotRow, bench::bench},
    round, today, tonight, tree,
    trial::{Try, trials},
    verdicts::Line,
    waking,
    whole::Whole,
    words::Days,
};

use super::{Roots, Says};

type Say<'a> = &'a mut dyn FnMut(&str, Says);

/// The day in the middle.
fn day(days: &Days) -> Date {
    days.iso.parse().unwrap()
}

/// The signs of verdicts.
fn signs(tree: &str, lines: &[Line], say: Say<'_>) {
    lines.iter().for_each(|it| say(tree, Says::Sign(Work::from_key(it.key).unwrap(), it.sign)));
}

/// What a row of *Waking* says, wherever it is shown.
fn row(row: &waking::Row, say: Say<'_>) {
    say(&row.key, Says::Roots(Roots::of(row.advice).unwrap()));
    say(&row.key, Says::Stage(row.stage.clone()));
    say(&row.key, Says::Stands(row.place.clone()));
    if let Some(leaf) = &row.leaf {
        say(&row.key, Says::Leaves(leaf.state));
    }
    if let Some(opens) = &row.opens {
        say(&row.key, Says::Opens(day(opens)));
    }
    if let Some(closes) = &row.closes {
        say(&row.key, Says::Closes(day(closes)));
    }
}

/// *Today*: each list says the same as the tag in its rows.
pub fn today(whole: &Whole, _: Timestamp, say: Say<'_>) {
    let page = today::today(whole);
    let lists = [
        (&page.repot, Some(Roots::Now)),
        (&page.look_first, Some(Roots::Look)),
        (&page.wait, Some(Roots::Soon)),
        (&page.ready, Some(Roots::Soon)),
        (&page.stay, Some(Roots::No)),
        (&page.in_store, None),
        (&page.looks, None),
    ];
    for (rows, roots) in lists {
        for it in rows {
            row(it, say);
            if let Some(roots) = roots {
                say(&it.key, Says::Roots(roots));
            }
        }
    }
    page.care.iter().for_each(|(key, ..)| say(key, Says::UnderCare));
}

pub fn waking(whole: &Whole, _: Timestamp, say: Say<'_>) {
    waking::waking(whole).rows.iter().for_each(|it| row(it, say));
}

/// Whether it goes this season, and into which pot.
fn going(it: &RepotRow, say: Say<'_>) {
    say(&it.key, Says::GoesThisSeason(it.goes));
    if let Some(pot) = it.pot_key.as_ref().filter(|_| it.goes) {
        say(&it.key, Says::Pot(pot.clone()));
    }
}

pub fn repots(whole: &Whole, _: Timestamp, say: Say<'_>) {
    let page = view::repots::repots(whole);
    let rows = page.go.iter().chain(&page.late).chain(&page.watch).chain(&page.leave);
    // The roots may be cut, and the pot comes too late: the list says that instead.
    for it in rows {
        say(&it.key, Roots::of(it.advice).map_or(Says::NoPot, Says::Roots));
        going(it, say);
    }
    page.care.iter().for_each(|(key, ..)| say(key, Says::UnderCare));
}

pub fn repot_bench(whole: &Whole, _: Timestamp, say: Say<'_>) {
    for it in &whole.trees {
        let page = bench(whole, it);
        say(&it.tree.key, Says::Roots(Roots::of(page.advice).unwrap()));
        say(&it.tree.key, Says::GoesThisSeason(page.goes));
        if let Some(pot) = page.pot_key.filter(|_| page.goes) {
            say(&it.tree.key, Says::Pot(pot));
        }
    }
}

pub fn tree(whole: &Whole, now: Timestamp, say: Say<'_>) {
    for it in &whole.trees {
        let page = tree::tree(whole, &it.tree.key, None, now.as_second()).unwrap();
        if let Some(it) = &page.row {
            row(it, say);
        }
        if let Some(leaf) = &page.leaf {
            say(&it.tree.key, Says::Leaves(leaf.state));
        }
        if let Some(water) = &page.water {
            say(&it.tree.key, Says::Water(water.row.verdict));
        }
        for effect in &page.effects {
            say(&it.tree.key, Says::MoveTo(effect.key.clone(), effect.may.sign));
            say(&it.tree.key, Says::OpensAt(effect.key.clone(), effect.opens.as_ref().map(day)));
        }
        signs(&it.tree.key, &page.may, say);
        for line in &page.may {
            let work = Work::from_key(line.key).unwrap();
            say(&it.tree.key, Says::May(work, matches!(line.sign, "yes" | "care")));
            if work == Work::Repot && matches!(line.sign, "yes" | "care" | "look") {
                let roots = if line.sign == "look" { Roots::Look } else { Roots::Now };
                say(&it.tree.key, Says::Roots(roots));
            }
        }
        let stands = page.places.iter().find(|(.., stands)| *stands);
        let name = stands.map_or("place not recorded", |(_, name, _)| name.as_str());
        say(&it.tree.key, Says::Stands(name.into()));
    }
}

/// *Tonight*: where each stands, and where who must move should go.
pub fn tonight(whole: &Whole, now: Timestamp, say: Say<'_>) {
    let Ok(page) = tonight::tonight(whole, now) else { return };
    for it in page.movers.iter().chain(&page.protect).chain(&page.watch).chain(&page.stay) {
        say(&it.key, Says::Stands(it.place.0.clone()));
        if let Some((_, key)) = &it.to {
            let to = whole.places.iter().find(|place| place.place.key == *key).unwrap();
            say(&it.key, Says::Goes(to.place.shelter));
        }
    }
}

pub fn round(whole: &Whole, now: Timestamp, say: Say<'_>) {
    let Some(page) = round::round(whole, now.as_second()) else { return };
    for place in &page.places {
        for it in &place.rows {
            say(&it.key, Says::Stands(place.name.clone()));
            say(&it.key, Says::Water(it.verdict));
        }
    }
}

/// The round half a day later, as *Round* shows it ahead.
pub fn round_ahead(whole: &Whole, now: Timestamp, say: Say<'_>) {
    let Some(page) = round::round(whole, now.as_second() + super::checks::AHEAD) else { return };
    for place in &page.places {
        for it in &place.rows {
            say(&it.key, Says::Stands(place.name.clone()));
            say(&it.key, Says::WaterAhead(it.verdict));
        }
    }
}

pub fn places(whole: &Whole, _: Timestamp, say: Say<'_>) {
    for it in &whole.places {
        let page = view::places::place(whole, &it.place.key).unwrap();
        page.trees.iter().for_each(|(key, _)| say(key, Says::Stands(page.card.name.clone())));
    }
}

/// Two hours for wires: how many fit changes no wire's verdict.
pub fn wires(whole: &Whole, _: Timestamp, say: Say<'_>) {
    let page = limbs::wires::page(whole, None, 2.0);
    page.rows.iter().for_each(|it| say(&it.tree, Says::Wire(it.id, it.verdict)));
}

pub fn wires_of_tree(whole: &Whole, _: Timestamp, say: Say<'_>) {
    for tree in whole.trees.iter().filter(|tree| !tree.shape.wires.is_empty()) {
        let page = limbs::wires::page(whole, Some(tree), 2.0);
        page.rows.iter().for_each(|it| say(&it.tree, Says::Wire(it.id, it.verdict)));
    }
}

pub fn layers(whole: &Whole, _: Timestamp, say: Say<'_>) {
    for tree in &whole.trees {
        let page = limbs::layers::layers(whole, tree);
        let lines: Vec<Line> = page.timing.into_iter().filter_map(|it| it.may).collect();
        signs(&tree.tree.key, &lines, say);
    }
}

pub fn branches(whole: &Whole, _: Timestamp, say: Say<'_>) {
    for tree in &whole.trees {
        signs(&tree.tree.key, &limbs::bench::card(whole, tree).may, say);
    }
}

/// Every tree tried in one place, another one each month.
pub fn what_if(whole: &Whole, _: Timestamp, say: Say<'_>) {
    let month = usize::try_from(whole.today.month()).unwrap();
    let to = &whole.places[month % whole.places.len()].place;
    let keys: Vec<&str> = whole.trees.iter().map(|it| it.tree.key.as_str()).collect();
    let Some(page) = trials(whole, &keys, Try { place: &to.key, day: whole.today }) else { return };
    for (key, _, trial) in page.told {
        if let (Some(opens), Some(closes)) = (&trial.leave_opens, &trial.leave_closes) {
            say(&key, Says::Opens(day(opens)));
            say(&key, Says::Closes(day(closes)));
        }
        if whole.tree(&key).unwrap().place.is_some_and(|it| whole.places[it].place.key == to.key) {
            continue;
        }
        say(&key, Says::MoveTo(to.key.clone(), trial.may.sign));
        say(&key, Says::OpensAt(to.key.clone(), trial.go_opens.as_ref().map(day)));
        if trial.may.sign == "yes" {
            say(&key, Says::Goes(to.shelter));
        }
    }
}

/// Pots for the season: who gets which.
pub fn pots(whole: &Whole, _: Timestamp, say: Say<'_>) {
    let page = view::pots::share::share(whole, None);
    for it in &page.rows {
        say(&it.tree, Says::GoesThisSeason(true));
        if let Some(pot) = &it.pot {
            say(&it.tree, Says::Pot(pot.clone()));
        }
    }
    page.too_late.iter().for_each(|(key, ..)| say(key, Says::GoesThisSeason(false)));
}
