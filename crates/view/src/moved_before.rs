//! What a move dated in the past changes of a winter: the cold a tree received, and when its buds are full.

use jiff::civil::Date;
use measure::winter::{Hemisphere, Winter};
use season::window::{Outlook, Told};

use crate::{
    trial::shifts,
    whole::{TreeWhole, Whole, facts},
    words,
};

/// Hours of cold by which a winter must change before it is asked about: a day.
const A_DAY: f64 = 24.0;

/// Days by which a window must change before it is asked about.
const SHIFTS: i32 = 3;

/// What a move changes of a tree's winter.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// Key and name.
    pub tree: (String, String),
    /// Days of cold received up to then, as its stays stand and with the move.
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
    let (ground, rank) =
        (whole.ground.as_ref().ok()?, whole.places.iter().position(|it| it.place.key == place)?);
    let mut moved = facts(tree, whole);
    if tree.moves.is_empty() || moved.moves.contains(&(day, rank)) {
        return None;
    }
    let mut outlook = Outlook::new(ground);
    let stays = outlook.tell(&moved).ok()?;
    moved.moves.retain(|(other, _)| *other != day);
    moved.moves.push((day, rank));
    moved.moves.sort_by_key(|(day, _)| *day);
    let goes = outlook.tell(&moved).ok()?;
    let cold = [&stays, &goes].map(|told| told.hours / A_DAY);
    let opens = |told: &Told| told.forecast.window().map(|window| window.opens.middle);
    let later = opens(&goes).zip(opens(&stays)).map(|(goes, stays)| goes - stays);
    let moves_window = later.map_or(opens(&goes) != opens(&stays), |days| days.abs() >= SHIFTS);
    if (cold[1] - cold[0]).abs() < 1.0 && !moves_window {
        return None;
    }
    let says = format!(
        "{}: {} of cold by {} instead of {}; its window: {}",
        tree.tree.name,
        words::count(cold[1].round() as i32, "day", "days"),
        words::day(whole.today, today),
        cold[0].round(),
        shifts(&stays, &goes).words()
    );
    Some(Changed { tree: (tree.tree.key.clone(), tree.tree.name.clone()), cold, later, words: says })
}
