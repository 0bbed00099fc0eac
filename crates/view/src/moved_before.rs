//! What a move dated in the past changes of a winter: the cold a tree received, and when its buds are full.

use std::collections::BTreeMap;

use collection::event::Move;
use jiff::civil::Date;
use measure::winter::{Hemisphere, Winter};
use season::window::{Outlook, Told};

use crate::{
    trial::shifts,
    whole::{TreeWhole, Whole, facts},
    words,
};

/// Chill portions by which a winter must change before it is asked about: about a day's.
const A_PORTION: f64 = 1.0;

/// Days by which a window must change before it is asked about.
const SHIFTS: i32 = 3;

/// What a move changes of a tree's winter.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// Key and name.
    pub tree: (String, String),
    /// Chill portions received up to then, as its stays stand and with the move.
    pub cold: [f64; 2],
    /// Days by which its buds are full later; none where there is a window on one side alone, or on neither.
    pub later: Option<i32>,
    /// The same in words.
    pub words: String,
}

/// The last day of the winter that holds a day, or today where that comes first: the day on which its cold is counted.
pub fn counted_on(whole: &Whole, day: Date) -> Date {
    let hemisphere = whole.site.as_ref().map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude));
    let winter = Winter::holding(day, hemisphere);
    let next = Winter { spring_year: winter.spring_year + 1, hemisphere };
    next.first_date().yesterday().unwrap_or(whole.today).min(whole.today)
}

/// What a move on a day changes of a tree's winter, `whole` being that of [`counted_on`]; none where it changes nothing worth asking, the
/// day has not passed, or the tree stood nowhere before, so that its history is only being entered.
pub fn changed(whole: &Whole, tree: &TreeWhole, place: &str, day: Date, today: Date) -> Option<Changed> {
    let rank = whole.places.iter().position(|it| it.place.key == place)?;
    changed_by(whole, tree, &[(day, rank)], today)
}

/// Days of moves, and where to.
type Stays = Vec<(Date, usize)>;

/// What the moves of a sheet change of the winters of their trees, each winter by itself; `on` gives the collection of a day.
///
/// # Errors
///
/// What `on` returns.
pub fn of_sheet<W: AsRef<Whole>, E>(
    now: &Whole,
    moves: &[Move],
    mut on: impl FnMut(Date) -> Result<W, E>,
) -> Result<Vec<Changed>, E> {
    let rank = |key: &str| now.places.iter().position(|it| it.place.key == key);
    let mut winters: BTreeMap<Date, BTreeMap<&str, Stays>> = BTreeMap::new();
    for it in moves.iter().filter(|it| it.day < now.today) {
        let (Some(tree), Some(rank)) = (now.tree(&it.tree), rank(&it.place)) else { continue };
        if !tree.moves.is_empty() && !tree.moves.contains(&(it.day, rank)) {
            let own = winters.entry(counted_on(now, it.day)).or_default();
            own.entry(&it.tree).or_default().push((it.day, rank));
        }
    }
    let mut told = Vec::new();
    for (day, trees) in winters {
        let then = on(day)?;
        let then = then.as_ref();
        told.extend(
            trees.iter().filter_map(|(key, moves)| changed_by(then, then.tree(key)?, moves, now.today)),
        );
    }
    Ok(told)
}

fn changed_by(whole: &Whole, tree: &TreeWhole, moves: &[(Date, usize)], today: Date) -> Option<Changed> {
    let ground = whole.ground.as_ref().ok()?;
    let mut moved = facts(tree, whole);
    if tree.moves.is_empty() || moves.iter().all(|it| moved.moves.contains(it)) {
        return None;
    }
    let mut outlook = Outlook::new(ground);
    let stays = outlook.tell(&moved).ok()?;
    moved.moves.retain(|(other, _)| moves.iter().all(|(day, _)| day != other));
    moved.moves.extend_from_slice(moves);
    moved.moves.sort_by_key(|(day, _)| *day);
    let goes = outlook.tell(&moved).ok()?;
    let cold = [&stays, &goes].map(|told| told.portions);
    let opens = |told: &Told| told.forecast.window().map(|window| window.opens.middle);
    let later = opens(&goes).zip(opens(&stays)).map(|(goes, stays)| goes - stays);
    let moves_window = later.map_or(opens(&goes) != opens(&stays), |days| days.abs() >= SHIFTS);
    if (cold[1] - cold[0]).abs() < A_PORTION && !moves_window {
        return None;
    }
    let says = format!(
        "{}: {} by {} instead of {}; its window: {}",
        tree.tree.name,
        words::count(cold[1].round() as i32, "chill portion", "chill portions"),
        words::day(whole.today, today),
        cold[0].round(),
        shifts(&stays, &goes).words()
    );
    Some(Changed { tree: (tree.tree.key.clone(), tree.tree.name.clone()), cold, later, words: says })
}
