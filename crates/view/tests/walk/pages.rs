//! How each page is read: one function per page, which says what the page says of each tree.

use jiff::{Timestamp, civil::Date};
use state::work::Work;
use view::{
    repots::{RepotRow, bench::bench},
    round, today, tonight, tree, waking,
    whole::Whole,
};

use super::{Roots, Says};

type Say<'a> = &'a mut dyn FnMut(&str, Says);

/// What a row of *Waking* says, wherever it is shown.
fn row(row: &waking::Row, say: Say<'_>) {
    say(&row.key, Says::Roots(Roots::of(row.advice).unwrap()));
    say(&row.key, Says::Stage(row.stage.clone()));
    say(&row.key, Says::Stands(row.place.clone()));
    if let Some(leaf) = &row.leaf {
        say(&row.key, Says::Leaves(leaf.state));
    }
    let day = |days: &view::words::Days| days.iso.parse::<Date>().unwrap();
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

pub fn repots(whole: &Whole, _: Timestamp, say: Say<'_>) {
    let page = view::repots::repots(whole);
    let rows = page.go.iter().chain(&page.late).chain(&page.watch).chain(&page.leave);
    // The roots may be cut, and the pot comes too late: the list says that instead.
    rows.for_each(|it: &RepotRow| say(&it.key, Roots::of(it.advice).map_or(Says::NoPot, Says::Roots)));
    page.care.iter().for_each(|(key, ..)| say(key, Says::UnderCare));
}

pub fn repot_bench(whole: &Whole, _: Timestamp, say: Say<'_>) {
    for it in &whole.trees {
        let page = bench(whole, it);
        say(&it.tree.key, Says::Roots(Roots::of(page.advice).unwrap()));
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
        place.rows.iter().for_each(|it| say(&it.key, Says::Stands(place.name.clone())));
    }
}
