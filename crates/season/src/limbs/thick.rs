//! How thick each limb will be by leaf fall, let run or kept short, and how long a wanted thickness takes.

use collection::{
    intention::Wish,
    limb::{Caliper, Limb},
};
use form::{
    error::Error,
    thickness::{
        Leaf, Likely, Season, Thickened, Thickness, Until, Vigour, leaf_area, per_leaf, ring_areas,
        ring_between, season_end, weeks_until,
    },
};
use jiff::civil::Date;
use measure::quantity::{Millimetre, Share, SquareCentimetre, SquareMillimetre, Weeks};

use super::{
    calendar::Calendar,
    raise::{Seen, growth},
};

/// How thick a shoot is at its foot that carries one tip of a tree in training, our estimate.
const SHOOT: Millimetre = Millimetre(2.0);

/// How thick a shoot is at its foot by leaf fall that was let run all season, our estimate.
const RUNNER: Millimetre = Millimetre(6.0);

/// When a runner has all its leaves, as a share of the season, our estimate.
const RUNNER_FULL: Share = Share(0.6);

/// When short shoots are cut back, as a share of the season: about midsummer (common practice, no source).
const SHORT_CUT: Share = Share(0.35);

/// What of its leaves a limb keeps when its shoots are cut back, our estimate.
const SHORT_KEEPS: f64 = 0.5;

/// What is done to a limb this season.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Course {
    /// Nothing: its tips carry their leaves.
    Left,
    /// Let run.
    Run,
    /// Kept short.
    Short,
    /// Taken off before it grows.
    Off,
}

impl Course {
    /// What a wish comes to.
    pub fn of(wish: Wish) -> Course {
        match wish {
            Wish::LetRun => Course::Run,
            Wish::KeepShort | Wish::Shorten => Course::Short,
            Wish::Remove => Course::Off,
            Wish::Thin | Wish::Wire | Wish::Guy | Wish::LeaveAlone => Course::Left,
        }
    }
}

/// A tree with its season, ready to be asked.
#[derive(Clone, Debug)]
pub struct Growing<'a> {
    seen: &'a Seen,
    /// For each limb of the skeleton: its number, the segment of its tip, how many tips are its own.
    tips: Vec<(u32, usize, f64)>,
    season: Season,
    /// The ring that a season lays on each segment by the planning figure.
    usual: Vec<SquareMillimetre>,
    /// What the tree makes of a leaf, as learned from its rings.
    pub vigour: Vigour,
}

impl<'a> Growing<'a> {
    /// A tree in its season on a day; its vigour is learned from readings with a ring between them.
    ///
    /// # Errors
    ///
    /// [`Error`] where its leaves hang on nothing.
    pub fn new(
        seen: &'a Seen,
        limbs: &[&Limb],
        calipers: &[&Caliper],
        calendar: &Calendar,
        today: Date,
    ) -> Result<Growing<'a>, Error> {
        let passed = Share(calendar.moment(today).1);
        let season = Season { length: Weeks(calendar.length() / 7.0), passed };
        let tips = tips(seen, limbs);
        let mut growing = Growing { seen, tips, season, usual: Vec::new(), vigour: Vigour::learn(&[]) };
        growing.usual = ring_areas(
            &seen.raised.skeleton,
            &growing.leaves(&|_| Course::Left),
            form::thickness::WOOD_PER_LEAF.value.middle,
            1.0,
        )?;
        let ratio = |limb: &&Limb| {
            let grown = growth(calipers, limb.number, calendar)?;
            let measured = ring_between(grown.from.1, grown.to.1).0 / grown.rings;
            let told = growing.usual(limb.number)?;
            (measured > 0.0).then(|| measured / told)
        };
        let ratios: Vec<f64> = limbs.iter().filter_map(ratio).collect();
        growing.vigour = Vigour::learn(&ratios);
        Ok(growing)
    }

    /// The ring that a season lays at a limb's base by the planning figure, mm²; none where nothing feeds it.
    pub fn usual(&self, limb: u32) -> Option<f64> {
        let axis = self.seen.raised.skeleton.axis(limb)?;
        Some(self.usual[axis.segments[0]].0).filter(|ring| *ring > 0.0)
    }

    /// Each limb with how many tips are its own.
    pub fn own_tips(&self) -> impl Iterator<Item = (u32, f64)> {
        self.tips.iter().map(|&(limb, _, tips)| (limb, tips))
    }

    /// The leaves of the tree when each limb takes its course.
    fn leaves(&self, course: &dyn Fn(u32) -> Course) -> Vec<Leaf> {
        let each = leaf_area(SHOOT, per_leaf().value.middle).0;
        let runner = leaf_area(RUNNER, per_leaf().value.middle);
        let mut leaves = Vec::with_capacity(self.tips.len() * 2);
        for &(limb, at, tips) in &self.tips {
            let own = SquareCentimetre(each * tips);
            match course(limb) {
                Course::Left => leaves.push(Leaf::standing(at, own)),
                Course::Run => {
                    leaves.push(Leaf::standing(at, own));
                    leaves.push(Leaf { at, area: runner, full: Some(RUNNER_FULL), cut: None });
                }
                Course::Short => {
                    leaves.push(Leaf::standing(at, SquareCentimetre(own.0 * SHORT_KEEPS)));
                    let gone = SquareCentimetre(own.0 * (1.0 - SHORT_KEEPS));
                    leaves.push(Leaf { at, area: gone, full: None, cut: Some(SHORT_CUT) });
                }
                Course::Off => {}
            }
        }
        leaves
    }

    /// Every segment by leaf fall when each limb takes its course.
    ///
    /// # Errors
    ///
    /// [`Error`] as the ring model.
    pub fn by_leaf_fall(&self, course: &dyn Fn(u32) -> Course) -> Result<Vec<Thickened>, Error> {
        season_end(&self.seen.raised.skeleton, &self.leaves(course), self.season, &self.vigour)
    }

    /// The base of a limb by leaf fall, when each limb takes its course.
    ///
    /// # Errors
    ///
    /// [`Error`] as the ring model.
    pub fn base(
        &self,
        limb: u32,
        course: &dyn Fn(u32) -> Course,
    ) -> Result<Option<Likely<Millimetre>>, Error> {
        let Some(axis) = self.seen.raised.skeleton.axis(limb) else { return Ok(None) };
        let rows = self.by_leaf_fall(course)?;
        Ok(Some(rows[axis.segments[0]].base))
    }

    /// How much thicker its bearer is by leaf fall just below and just above a limb under one set of courses than under another; nothing
    /// above where the bearer ends there.
    ///
    /// # Errors
    ///
    /// [`Error`] as the ring model.
    pub fn beside(
        &self,
        limb: u32,
        [run, off]: [&dyn Fn(u32) -> Course; 2],
    ) -> Result<Option<(Millimetre, Option<Millimetre>)>, Error> {
        let tree = &self.seen.raised.skeleton;
        let Some(below) = tree.axis(limb).and_then(|axis| axis.bearer) else { return Ok(None) };
        let (run, off) = (self.by_leaf_fall(run)?, self.by_leaf_fall(off)?);
        let gain = |at: usize| Millimetre(run[at].base.middle.0 - off[at].base.middle.0);
        Ok(Some((gain(below), tree.next(below).map(gain))))
    }

    /// The ring that a whole season lays at a limb's base.
    ///
    /// # Errors
    ///
    /// [`Error`] as the ring model.
    pub fn ring(
        &self,
        limb: u32,
        course: &dyn Fn(u32) -> Course,
    ) -> Result<Option<Likely<SquareMillimetre>>, Error> {
        let Some(axis) = self.seen.raised.skeleton.axis(limb) else { return Ok(None) };
        let whole = Season { passed: Share(0.0), ..self.season };
        let rows = season_end(&self.seen.raised.skeleton, &self.leaves(course), whole, &self.vigour)?;
        Ok(Some(rows[axis.segments[0]].ring))
    }

    /// Weeks of growth until a limb's base is so thick, when each limb takes its course every season.
    ///
    /// # Errors
    ///
    /// [`Error`] as the ring model.
    pub fn until(
        &self,
        limb: u32,
        wanted: Millimetre,
        course: &dyn Fn(u32) -> Course,
    ) -> Result<Option<Until>, Error> {
        let Some(axis) = self.seen.raised.skeleton.axis(limb) else { return Ok(None) };
        let leaves = self.leaves(course);
        let asked = Thickness { segment: axis.segments[0], wanted };
        weeks_until(&self.seen.raised.skeleton, &leaves, asked, self.season, &self.vigour).map(Some)
    }

    /// The season: its length, and how far it has gone.
    pub fn season(&self) -> Season {
        self.season
    }
}

/// How many tips are a limb's own: those it bears less those that its traced branches bear.
fn tips(seen: &Seen, limbs: &[&Limb]) -> Vec<(u32, usize, f64)> {
    let reckoned = |limb: &Limb| limb.tips.map_or(1.0, form::traced::TipClass::reckoned);
    let stands = |limb: &Limb| seen.raised.skeleton.axis(limb.number);
    limbs
        .iter()
        .filter_map(|limb| {
            let axis = stands(limb)?;
            let borne: f64 = limbs
                .iter()
                .filter(|other| other.bearer == Some(limb.number) && stands(other).is_some())
                .map(|other| reckoned(other))
                .sum();
            Some((limb.number, *axis.segments.last()?, (reckoned(limb) - borne).max(1.0)))
        })
        .collect()
}
