//! The log of the bench: a repot with its pot, its mix, its front and its photo, all of it or nothing.

use std::borrow::Cow;

use collection::{
    limb::Front,
    photo::{Photo, Subject},
    potting::Pot,
    repot::Repot,
    reserve::Reservation,
    ware::{Ware, Whereabouts},
};
use form::traced::Clock;
use jiff::civil::Date;
use measure::quantity::{Degrees, Minutes, Share, Units};
use store::{
    before::FrontBefore,
    change::Change,
    reader::Reader,
    store::{Act, Store},
};

use super::{
    cm_if, day_or_today, known_mix, known_pot, name_of, percent, potted_by, season_of, small, word_if,
    work_of,
};
use crate::{
    asked::with_reason,
    length::{self, Bare},
    limits::{CLOCK, LONG, MINUTES, PAD, PROUD, ROOTS_CUT, TILT},
    photo::{Sent, Taken, free_key},
    record::{FormError, bad, known_tree, number, text},
};

/// Per cent of the roots above which no record is taken.
pub(super) const MOST_CUT: f64 = ROOTS_CUT[1] * 100.0;

/// A repot as typed at the bench.
#[derive(Clone, Copy, Debug, Default)]
#[allow(missing_docs)]
pub struct RepotForm<'a> {
    pub tree: &'a str,
    /// Empty for today.
    pub day: &'a str,
    pub pot: &'a str,
    pub mix: &'a str,
    /// Per cent of the roots; 0 for a tree slipped into a larger pot.
    pub cut: &'a str,
    pub bare: bool,
    pub found: &'a str,
    /// How far the root flare stands above the rim, mm or in the unit told; below it less than 0.
    pub proud: &'a str,
    /// The new front, as an hour of the old one; empty keeps it.
    pub clock: &'a str,
    /// Tilt to the right, degrees.
    pub sideways: &'a str,
    /// Tilt towards the viewer, degrees.
    pub forward: &'a str,
    pub pad_length: &'a str,
    pub pad_width: &'a str,
    pub pad_depth: &'a str,
    /// Minutes.
    pub took: &'a str,
    pub note: &'a str,
    /// What the photo shows; empty for the whole tree.
    pub subject: &'a str,
    /// Why it is done though it was asked about.
    pub despite: &'a str,
}

/// A question that a reason answers.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Ask {
    /// More was cut than the tree should lose today.
    #[error(
        "{:.0} % of the roots is more than the {:.0} % that this tree should lose today; was that meant? Say why",
        .cut.0 * 100.0, .limit.0 * 100.0
    )]
    OverLimit {
        /// Share of the roots cut.
        cut: Share,
        /// The most for today.
        limit: Share,
    },
    /// The pot cannot hold the tree by the hard limits.
    #[error("the pot cannot hold this tree: {0}; was that meant? Say why")]
    Unfit(String),
    /// The verdict on root work that day is no.
    #[error("root work is not advised: {0}; was that meant? Say why")]
    Unwise(String),
    /// The pot is held for another tree.
    #[error("the pot is held for {tree} in {season}; shall this tree have it? Say why")]
    HeldFor {
        /// The other tree's name.
        tree: String,
        /// The season it is held for.
        season: i16,
    },
    /// More than one thing.
    #[error("{}", .0.iter().map(Ask::to_string).collect::<Vec<_>>().join(". Also: "))]
    All(Vec<Ask>),
}

/// What speaks against a repot by all that is known; the one who holds the whole collection against the tree tells it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Against<'a> {
    /// The most of the roots that the tree should lose today; none where nobody can say.
    pub limit: Option<Share>,
    /// Why the pot typed cannot hold this tree by the hard limits; none where it can.
    pub unfit: Option<&'a str>,
    /// Why roots should not be cut on that day; none where nothing bars it.
    pub verdict: Option<&'a str>,
}

/// Why a repot was not written down.
#[derive(Debug, thiserror::Error)]
pub enum RepotError {
    /// A field that cannot be taken, or the store's no.
    #[error(transparent)]
    Form(#[from] FormError),
    /// It can be written down with a reason; nothing was.
    #[error(transparent)]
    Asked(#[from] Ask),
}

impl From<store::error::Error> for RepotError {
    fn from(why: store::error::Error) -> RepotError {
        RepotError::Form(why.into())
    }
}

/// A repot that was written down.
#[derive(Clone, Debug, PartialEq)]
pub struct Repotted {
    /// As it is kept.
    pub repot: Repot,
    /// What was said of pots and this tree for the season, and is fulfilled or over.
    pub ended: Vec<Reservation>,
}

/// Writes down a repot with all that follows from it: the work, the pot the tree stands in, its front, its photo, and the end of what
/// was promised to it for the season. What stood before is kept beside it, so that it can be taken back.
///
/// # Errors
///
/// [`RepotError`]; then nothing was written. What speaks against it, and a pot held for another tree, are asked about together until
/// `despite` says why.
pub fn repot(
    store: &mut Store,
    form: &RepotForm<'_>,
    photo: Option<Sent<'_>>,
    against: Against<'_>,
    units: Units,
    today: Date,
) -> Result<Repotted, RepotError> {
    let tree = known_tree(store, form.tree)?;
    let reader = store.reader()?;
    let (pot, ware) = known_pot(&reader, form.pot)?;
    let mut it = read(&reader, form, &tree, units, today)?;
    let season = season_of(&reader, it.day)?;
    stands(&reader, &it)?;
    if ware.whereabouts != Whereabouts::Shelf {
        return Err(bad("pot", &pot.name, format!("is {}", ware.whereabouts.words())).into());
    }
    if let Some(ask) = asked(&reader, &it, against, season)? {
        if form.despite.trim().is_empty() {
            return Err(ask.into());
        }
        it.note = with_reason(&it.note, form.despite)?;
    }
    let stood = reader.fronts()?.into_iter().find(|front| front.tree == it.tree && front.rank == 0);
    let front = turned(stood.as_ref(), &it)?;
    let photo = photo.map(|sent| taken(sent, form, &it)).transpose()?;
    let ended = store.transact(&Act::Repot(tree.clone()), |change| {
        room(&reader, change, &it, &pot, &ware)?;
        change.bring_root_work(&work_of(&it))?;
        change.add_potted(&potted_by(&it))?;
        if let Some(front) = &front {
            change.set_front(front)?;
        }
        if let Some((taken, mut photo)) = photo {
            photo.key = free_key(&format!("{tree}-{}", it.day), &change.photo_keys(&tree)?);
            if !change.add_photo(&photo, &taken.hash, [&taken.full, &taken.small])? {
                return Err(bad("photo", "", "is kept for this tree already"));
            }
            it.photo = Some(photo.key);
        }
        if !change.add_repot(&it)? {
            return Err(bad("day", &it.day.to_string(), "has a repot of this tree already"));
        }
        if let Some(set) = front {
            change.set_front_before(&FrontBefore { day: it.day, before: stood, set })?;
        }
        let ended = change.end_reservations_for(&tree, season)?;
        ended.iter().try_for_each(|promise| change.add_promise_before(it.day, promise))?;
        Ok::<_, FormError>(ended)
    })?;
    Ok(Repotted { repot: it, ended })
}

fn read(
    reader: &Reader,
    form: &RepotForm<'_>,
    tree: &str,
    units: Units,
    today: Date,
) -> Result<Repot, FormError> {
    let across = |field, typed| cm_if(field, typed, units, PAD);
    let pad = [
        across("length of the roots", form.pad_length)?,
        across("width of the roots", form.pad_width)?,
        across("depth of the roots", form.pad_depth)?,
    ];
    let tilt = |field, typed: &str| match typed.trim() {
        "" => Ok(None),
        told => number(field, told, TILT[0], TILT[1]).map(|tilt| Some(Degrees(tilt))),
    };
    let (sideways, forward) =
        (tilt("tilt to the right", form.sideways)?, tilt("tilt towards the viewer", form.forward)?);
    let clock = small("front", form.clock, CLOCK)?;
    if clock == Some(0) {
        return Err(bad("front", "0", "is not an hour from 1 to 12"));
    }
    Ok(Repot {
        tree: tree.to_string(),
        day: day_or_today(form.day, today)?,
        pot: form.pot.to_string(),
        mix: known_mix(reader, form.mix)?,
        cut: percent("cut", form.cut, MOST_CUT)?,
        bare: form.bare,
        found: text("found", form.found, LONG)?,
        proud: length::read_if("root flare", form.proud, Bare::Millimetres, units, PROUD)?,
        clock,
        lean: match (sideways, forward) {
            (None, None) => None,
            (sideways, forward) => Some([sideways, forward].map(|tilt| tilt.unwrap_or(Degrees(0.0)))),
        },
        pad: match pad {
            [Some(length), Some(width), Some(depth)] => Some([length, width, depth]),
            [None, None, None] => None,
            _ => {
                let typed = [form.pad_length, form.pad_width, form.pad_depth].map(str::trim);
                let typed: Vec<&str> = typed.into_iter().filter(|typed| !typed.is_empty()).collect();
                return Err(bad(
                    "roots",
                    &typed.join(" × "),
                    "need length, width and depth, or none of them",
                ));
            }
        },
        photo: None,
        took: match form.took.trim() {
            "" => None,
            typed => Some(Minutes(number("minutes", typed, MINUTES[0], MINUTES[1])?)),
        },
        note: text("note", form.note, LONG)?,
    })
}

/// Refuses a repot on or before the day of one that is written down.
fn stands(reader: &Reader, it: &Repot) -> Result<(), FormError> {
    let last =
        reader.repots()?.into_iter().filter(|other| other.tree == it.tree).map(|other| other.day).max();
    match last {
        Some(last) if last == it.day => {
            Err(bad("day", &it.day.to_string(), "has a repot of this tree already; take that back first"))
        }
        Some(last) if last > it.day => {
            Err(bad("day", &it.day.to_string(), format!("is before its last repot, {last}")))
        }
        _ => Ok(()),
    }
}

/// What has to be asked before it is written down.
fn asked(reader: &Reader, it: &Repot, against: Against<'_>, season: i16) -> Result<Option<Ask>, FormError> {
    let mut asks = Vec::new();
    // A figure typed in whole per cent is not over a limit that is the same when rounded.
    if let Some(limit) = against.limit.filter(|limit| it.cut.0 > limit.0 + 0.005) {
        asks.push(Ask::OverLimit { cut: it.cut, limit });
    }
    asks.extend(against.unfit.map(|why| Ask::Unfit(why.to_string())));
    // Into a larger pot, with no root cut, it may go on any day.
    let unwise = against.verdict.filter(|_| it.cut.0 > 0.0 || it.bare);
    asks.extend(unwise.map(|why| Ask::Unwise(why.to_string())));
    let holder = reader.reservations()?.into_iter().find(|other| {
        other.pot == it.pot && other.season == season && other.said.holds() && other.tree != it.tree
    });
    if let Some(holder) = holder {
        asks.push(Ask::HeldFor { tree: name_of(reader, &holder.tree)?, season });
    }
    Ok(if asks.len() > 1 { Some(Ask::All(asks)) } else { asks.pop() })
}

/// Refuses a pot that has another tree in it; training pots take as many trees as there are pots.
pub(super) fn room(
    reader: &Reader,
    change: &Change<'_>,
    it: &Repot,
    pot: &Pot,
    ware: &Ware,
) -> Result<(), FormError> {
    let mut sitting = change.sitting(&it.pot)?;
    sitting.retain(|other| other.tree != it.tree);
    match sitting.first() {
        Some(other) if !ware.training => {
            let tree = name_of(reader, &other.tree)?;
            Err(bad("pot", &pot.name, format!("holds {tree}; repot that one first")))
        }
        Some(_) if sitting.len() >= usize::from(ware.count) => {
            Err(bad("pot", &pot.name, format!("is used up: all {} have a tree in them", ware.count)))
        }
        _ => Ok(()),
    }
}

/// The front after a repot that turned or tilted the tree; none after another.
fn turned(stood: Option<&Front>, it: &Repot) -> Result<Option<Front>, FormError> {
    if it.clock.is_none() && it.lean.is_none() {
        return Ok(None);
    }
    let before = stood.map_or(6, |front| front.clock.hour());
    // Hours go round: the new front is as far from the one before as the hour is from 6.
    let hour = (before + it.clock.unwrap_or(6) + 5) % 12 + 1;
    let clock =
        Clock::new(hour).map_err(|_| bad("front", &hour.to_string(), "is not an hour from 1 to 12"))?;
    let kept = stood.map_or([Degrees(0.0); 2], |front| [front.sideways, front.forward]);
    let [sideways, forward] = it.lean.unwrap_or(kept);
    let why = stood.map(|front| front.why.clone()).filter(|why| !why.is_empty());
    let why = why.unwrap_or_else(|| format!("set at the repot of {}", it.day));
    Ok(Some(Front { tree: it.tree.clone(), rank: 0, clock, sideways, forward, why }))
}

/// The photo that came with the log, opened before anything is written.
fn taken<'a>(sent: Sent<'a>, form: &RepotForm<'_>, it: &Repot) -> Result<(Cow<'a, Taken>, Photo), FormError> {
    let taken = sent.opened()?;
    let photo = Photo {
        key: String::new(),
        tree: it.tree.clone(),
        day: it.day,
        day_told: true,
        subject: word_if("photo of", form.subject, Subject::from_key)?.unwrap_or(Subject::Whole),
        clock: 6,
        wide: taken.wide,
        high: taken.high,
        scale: None,
        soil: None,
        note: "at the repot".into(),
    };
    Ok((taken, photo))
}
