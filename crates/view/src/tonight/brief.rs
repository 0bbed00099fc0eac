//! The coming night in one line, and what last night did: the judgement of the page *Tonight*, for pages that only touch on it.

use jiff::{Timestamp, ToSpan, civil::Date};
use season::tonight::{
    judge::{TreeNight, judge},
    sky::Known,
};

use super::{Counts, Judging, afternoon, answer, judged, nights, say};
use crate::{
    frost,
    whole::Whole,
    words::{self, count},
};

/// The coming night in one line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Brief {
    /// The date of its evening.
    pub evening: Date,
    /// Trees to carry.
    pub carry: usize,
    /// Trees to protect where they stand.
    pub protect: usize,
    /// Trees to look at again at dusk.
    pub watch: usize,
    /// The next night for which more trees must be moved, and how many.
    pub next: Option<(Date, usize)>,
    /// True where no forecast tells the night.
    pub is_usual: bool,
    /// By when trees are moved, by the clock of the site.
    pub by: String,
    /// The answer, as the page gives it.
    pub answer: String,
}

impl Brief {
    /// Whether anything must be done before dark.
    pub fn presses(&self) -> bool {
        self.carry + self.protect > 0
    }
}

/// The coming night in one line; none without a site, weather or places. Without a forecast only the one night is judged.
pub fn brief(whole: &Whole, now: Timestamp) -> Option<Brief> {
    let Judging { page, spot, outside, sky, nights: coming, gathered, told } = judged(whole, now).ok()?;
    let counts = Counts::of(&told);
    let ahead = nights::nights(&page, spot, outside, &coming, &gathered);
    let next = ahead.iter().skip(1).find(|night| !night.first.is_empty());
    Some(Brief {
        evening: page.night.evening,
        carry: counts.carry,
        protect: counts.protect,
        watch: counts.watch,
        next: next.map(|night| (night.evening, night.first.len())),
        is_usual: matches!(sky.known, Known::Usual { .. }),
        by: say::clock(&page, page.night.move_by(&page.zone)),
        answer: answer(counts, &gathered, &coming, page.units) + &nights::next(&ahead, &page),
    })
}

/// Most trees named in one line.
const NAMED: usize = 8;

/// What last night did: by place, the trees worth carrying for it from where they stood, by the lines that *Tonight* holds them to.
pub fn last_night(whole: &Whole) -> Vec<String> {
    let evening = whole.today - 1.days();
    let noon = afternoon(whole) - 24.hours();
    let Ok(it) = judged(whole, noon) else { return Vec::new() };
    if it.sky.known != Known::Read || it.page.night.evening != evening {
        return Vec::new();
    }
    let stood =
        |moves: &[(Date, usize)]| moves.iter().rfind(|(day, _)| *day <= evening).map(|(_, place)| *place);
    let mut lines = Vec::new();
    for (rank, night) in it.nights.iter().enumerate() {
        let is_hurt = |tree: &&super::gather::Gathered<'_>| {
            let facts = frost::facts(whole, tree.tree, evening);
            let was = TreeNight { facts, ..tree.night };
            stood(&tree.tree.moves) == Some(rank) && judge(&was, night).is_endangered(was.worth)
        };
        let names: Vec<&str> =
            it.gathered.iter().filter(is_hurt).map(|tree| tree.tree.tree.name.as_str()).collect();
        if names.is_empty() {
            continue;
        }
        let more = names.len().saturating_sub(NAMED);
        lines.push(format!(
            "{}: {} last night ({}), which may have passed the planned line of {}{}",
            whole.places[rank].place.name,
            it.page.units.temperature(night.low),
            words::day(evening, whole.today),
            names[..names.len() - more].join(", "),
            if more > 0 { format!(" and {}", count(more, "more tree", "more trees")) } else { String::new() },
        ));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_night_presses_by_what_must_be_done_before_dark() {
        let calm = Brief {
            evening: jiff::civil::date(2026, 4, 3),
            carry: 0,
            protect: 0,
            watch: 3,
            next: None,
            is_usual: false,
            by: "15:00".into(),
            answer: String::new(),
        };
        assert!(!calm.presses());
        assert!(Brief { protect: 1, ..calm }.presses());
    }
}
