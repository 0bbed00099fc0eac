//! A tree's branches: what each is, what is meant for it this season, and in which order to work.

pub mod bench;
pub mod draw;
pub mod findings;
pub mod front;
pub mod grows;
pub mod layers;
pub mod outline;
pub mod plans;
pub mod presses;
pub mod removal;
pub mod wires;
pub mod written;

use collection::{
    intention::{Intention, Wish},
    limb::{Caliper, Limb},
};
use form::traced::{Clock, Thickness, TipClass};
use jiff::civil::Date;
use measure::{
    quantity::{Millimetre, Units},
    taxon::Kind,
};
use season::limbs::{
    calendar::Calendar,
    order::{self, Turn},
    raise::{self, NotRaised, Seen},
};

use crate::{
    photos::{PhotoLine, hour, photos},
    shape::Shape,
    whole::{TreeWhole, Whole},
    words,
};

/// What is meant for a limb, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meant {
    /// The number of its row.
    pub id: i64,
    /// The wish as files and patterns name it.
    pub key: &'static str,
    /// The wish and its measure: "let run until 8 mm".
    pub words: String,
    /// Why, and what else to know at the bench.
    pub why: String,
    /// By when; late if that has passed.
    pub by: Option<String>,
    /// Whether its day has passed undone.
    pub late: bool,
    /// Whether it is the wish of a limb below it.
    pub inherited: bool,
    /// The limb whose wish it is.
    pub from: String,
}

/// A limb on the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LimbRow {
    /// Its number.
    pub number: u32,
    /// What the grower calls it.
    pub name: String,
    /// Where it grows.
    pub place: String,
    /// How thick its base is, and how that is known.
    pub thick: String,
    /// Whether that was measured.
    pub measured: bool,
    /// What it grew from one reading to the next.
    pub growth: String,
    /// Its base by leaf fall, let run and kept short.
    pub forecast: Option<String>,
    /// What letting it run does to the limb that bears it, below and above.
    pub sacrifice: Option<String>,
    /// How long the thickness meant for it takes.
    pub until: Option<String>,
    /// What is meant for it.
    pub meant: Option<Meant>,
    /// The hour it grows towards, for its form.
    pub clock: u8,
    /// How many tips it bears, for its form.
    pub tips: &'static str,
}

/// A step of the work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StepLine {
    /// The limb.
    pub name: String,
    /// Its number.
    pub number: u32,
    /// How high.
    pub high: String,
    /// The wish as patterns name it.
    pub key: &'static str,
    /// What to do.
    pub words: String,
    /// Why.
    pub why: String,
    /// "work", "spare" or "stop".
    pub turn: &'static str,
    /// Whether its day has passed.
    pub late: bool,
}

/// The page.
#[derive(Clone, Debug, PartialEq)]
pub struct LimbsPage {
    /// The tree's key.
    pub key: String,
    /// The tree's name.
    pub name: String,
    /// Its taxon's common name.
    pub common: String,
    /// What to be careful of with its kind.
    pub cautions: Option<crate::cautions::Cautions>,
    /// What the grower is after.
    pub aim: String,
    /// The same for its form: height, trunk, needles, day of a show, words.
    pub aimed: [String; 5],
    /// Whether its candles are cut, so that the length of its needles is chosen.
    pub has_candles: bool,
    /// On which photo this rests, or what is missing.
    pub rests: String,
    /// Whether the tree stands as limbs.
    pub is_raised: bool,
    /// The limbs.
    pub rows: Vec<LimbRow>,
    /// How its limbs are ordered, in words.
    pub orders: Option<String>,
    /// The work in order.
    pub steps: Vec<StepLine>,
    /// Its photos.
    pub photos: Vec<PhotoLine>,
    /// Wishes to choose from.
    pub wishes: Vec<(&'static str, &'static str)>,
    /// Numbers of tips to choose from.
    pub tips: Vec<&'static str>,
    /// Today, for forms.
    pub today: String,
    /// What is not known.
    pub caveats: Vec<String>,
}

/// A diameter as the reader writes it.
pub fn thick(units: Units, mm: Millimetre) -> String {
    match units {
        Units::Metric => format!("{:.1} mm", mm.0),
        Units::Imperial => format!("{:.2} in", mm.0 / 25.4),
    }
}

/// A length along wood as the reader writes it.
pub fn long(units: Units, mm: Millimetre) -> String {
    match units {
        Units::Metric if mm.0.abs() < 100.0 => format!("{:.0} mm", mm.0),
        Units::Metric => format!("{:.0} cm", mm.0 / 10.0),
        Units::Imperial => format!("{:.1} in", mm.0 / 25.4),
    }
}

/// The tree as limbs on the day, or why not; raised once.
///
/// # Errors
///
/// [`NotRaised`], which the grower can mend.
pub fn seen<'a>(whole: &Whole, tree: &'a TreeWhole) -> Result<&'a Seen, &'a NotRaised> {
    let shape = &tree.shape;
    let raised = tree.seen.get_or_init(|| {
        let alive: Vec<&Limb> = shape.alive(whole.today).collect();
        let readings: Vec<&Caliper> = shape.calipers.iter().map(|(_, it)| it).collect();
        raise::raise(&alive, &shape.photos, &shape.traces, &readings)
    });
    raised.as_ref()
}

/// The tree as the text of a Multiscale Tree Graph.
///
/// # Errors
///
/// [`NotRaised`] where it is not traced.
pub fn graph<'a>(whole: &Whole, tree: &'a TreeWhole) -> Result<String, &'a NotRaised> {
    Ok(form::mtg::write(&seen(whole, tree)?.raised.skeleton))
}

/// What is meant for a limb, in words.
pub fn meant(shape: &Shape, limb: u32, units: Units, today: Date) -> Option<Meant> {
    let intention = shape.meant(limb, today)?;
    let id = shape.intentions.iter().find(|(_, it)| it == intention).map_or(0, |(id, _)| *id);
    let why = [intention.which.as_str(), intention.why.as_str()];
    Some(Meant {
        id,
        key: intention.wish.key(),
        words: wish(intention, units),
        why: why.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; "),
        by: intention.by.map(|by| words::day(by, today)),
        late: intention.is_late(today),
        inherited: intention.limb != limb,
        from: shape.name_of(intention.limb),
    })
}

/// A wish and its measure.
pub fn wish(it: &Intention, units: Units) -> String {
    let until = it.until.map(|mm| thick(units, mm));
    let nodes = it.nodes.map(|nodes| words::count(nodes, "node", "nodes"));
    match (it.wish, until, nodes) {
        (Wish::LetRun, Some(until), _) => format!("let run until {until}"),
        (Wish::KeepShort | Wish::Shorten, _, Some(nodes)) => format!("{} to {nodes}", it.wish.words()),
        (Wish::Remove, Some(until), _) => format!("remove once it is {until}"),
        (wish, ..) => wish.words().to_string(),
    }
}

/// The page of a tree's branches.
pub fn limbs(whole: &Whole, tree: &TreeWhole) -> LimbsPage {
    let (shape, units, today) = (&tree.shape, whole.units(), whole.today);
    let seen = seen(whole, tree);
    let alive: Vec<&Limb> = shape.alive(today).collect();
    let intentions: Vec<&Intention> = shape.intentions.iter().map(|(_, it)| it).collect();
    let heights = seen.map(order::heights).unwrap_or_default();
    let steps = order::order(&alive, &intentions, today, &heights);
    let readings: Vec<&Caliper> = shape.calipers.iter().map(|(_, it)| it).collect();
    let growing = seen.ok().and_then(|seen| grows::growing(whole, tree, seen));
    let calendar = grows::calendar(whole, tree);
    LimbsPage {
        key: tree.tree.key.clone(),
        name: tree.tree.name.clone(),
        common: tree.tree.taxon.common.into(),
        cautions: crate::cautions::of(whole, tree),
        aim: aim(shape, units),
        aimed: aimed(shape, units),
        has_candles: tree.tree.taxon.kind == Kind::TwoFlushPine,
        rests: match seen {
            Ok(seen) => format!("as traced on the photo of {}", words::day(seen.day, today)),
            Err(why) => why.to_string(),
        },
        is_raised: seen.is_ok(),
        rows: alive
            .iter()
            .map(|limb| LimbRow {
                number: limb.number,
                name: limb.name.clone(),
                place: place(shape, limb, heights.get(&limb.number).copied(), units),
                thick: base(seen.ok(), limb.number, units),
                measured: seen.is_ok_and(|seen| seen.how(limb.number) == Some(Thickness::Measured)),
                growth: growth(&readings, limb.number, &calendar, units, today),
                forecast: growing.as_ref().and_then(|it| grows::by_leaf_fall(whole, shape, it, limb.number)),
                sacrifice: growing.as_ref().and_then(|it| grows::sacrifice(whole, shape, it, limb.number)),
                until: growing.as_ref().and_then(|it| grows::until(whole, shape, it, limb.number)),
                meant: meant(shape, limb.number, units, today),
                clock: limb.clock.map_or(0, Clock::hour),
                tips: limb.tips.map_or("", TipClass::key),
            })
            .collect(),
        orders: seen.ok().map(orders),
        steps: steps
            .iter()
            .map(|step| StepLine {
                name: step.limb.name.clone(),
                number: step.limb.number,
                high: step.high.map_or_else(String::new, |high| format!("at {}", long(units, high))),
                key: step.meant.wish.key(),
                words: wish(step.meant, units),
                why: step.meant.why.clone(),
                turn: match step.turn {
                    Turn::Work => "work",
                    Turn::Spare => "spare",
                    Turn::Stop => "stop",
                },
                late: step.meant.is_late(today),
            })
            .collect(),
        photos: photos(whole, shape),
        wishes: Wish::ALL.map(|wish| (wish.key(), wish.words())).to_vec(),
        tips: TipClass::ALL.map(TipClass::key).to_vec(),
        today: today.to_string(),
        caveats: seen
            .map_or_else(|_| Vec::new(), |seen| caveats(shape, seen))
            .into_iter()
            .chain(growing.as_ref().map(grows::learned))
            .collect(),
    }
}

/// The tree's orders by Strahler: how many streams of each, and how they multiply downwards.
fn orders(seen: &Seen) -> String {
    let told = form::order::streams(&seen.raised.skeleton);
    let counts: Vec<String> = told.orders.iter().map(|order| order.count.to_string()).collect();
    let ratio = told.ratios.map_or_else(String::new, |ratios| {
        format!(", by {:.1} from one to the next (one grown walnut: 3.4; it varies within one crown, so read it in this tree's own years)", ratios.branching)
    });
    format!("Traced limbs by order, tips first (Strahler): {}{ratio}.", counts.join(", "))
}

pub(crate) fn aim(shape: &Shape, units: Units) -> String {
    let Some(aim) = &shape.aim else { return String::new() };
    let high = aim.high.map(|mm| format!("{} high", long(units, mm)));
    let trunk = aim.trunk.map(|mm| format!("trunk {}", thick(units, mm)));
    let needles = aim.needles.map(|mm| format!("needles {}", thick(units, mm)));
    let shown = aim.shown.map(|day| format!("shown on {}", day.strftime("%-d %b %Y")));
    let words = (!aim.words.is_empty()).then(|| aim.words.clone());
    [words, high, trunk, needles, shown].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// What the form of the aim holds, each as it is typed.
fn aimed(shape: &Shape, units: Units) -> [String; 5] {
    let Some(aim) = &shape.aim else { return Default::default() };
    let typed = |mm: Option<Millimetre>, said: fn(Units, Millimetre) -> String| {
        mm.map_or_else(String::new, |mm| said(units, mm))
    };
    [
        typed(aim.high, long),
        typed(aim.trunk, thick),
        typed(aim.needles, thick),
        aim.shown.map_or_else(String::new, |day| day.to_string()),
        aim.words.clone(),
    ]
}

fn place(shape: &Shape, limb: &Limb, high: Option<Millimetre>, units: Units) -> String {
    let towards = limb.clock.map(|clock| format!("towards {}", hour(clock.hour())));
    let from = limb.bearer.map(|bearer| match high {
        Some(high) => format!("off {} at {}", shape.name_of(bearer), long(units, high)),
        None => format!("off {}", shape.name_of(bearer)),
    });
    [from, towards].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn base(seen: Option<&Seen>, limb: u32, units: Units) -> String {
    let told = seen.and_then(|seen| {
        let base = seen.base(limb)?;
        Some(match seen.how(limb)? {
            Thickness::Measured => thick(units, base),
            Thickness::Interpolated => format!("about {}, between two readings", thick(units, base)),
            Thickness::Inferred(_) => format!("about {}, inferred, not measured", thick(units, base)),
        })
    });
    told.unwrap_or_else(|| "not traced on that photo".into())
}

fn growth(readings: &[&Caliper], limb: u32, calendar: &Calendar, units: Units, today: Date) -> String {
    raise::growth(readings, limb, calendar).map_or_else(String::new, |growth| {
        format!("{} a year since {}", thick(units, growth.yearly()), words::day(growth.from.0, today))
    })
}

fn caveats(shape: &Shape, seen: &Seen) -> Vec<String> {
    use form::traced::Caveat;
    let name = |limb: u32| shape.name_of(limb);
    let mut told: Vec<String> = seen
        .raised
        .caveats
        .iter()
        .map(|caveat| match caveat {
            Caveat::TrunkNotMeasured => {
                "the trunk carries no caliper reading: its thickness is what its branches would need".into()
            }
            Caveat::ReachNotSeen { limb } => format!(
                "{} points at the viewer or away, so the photo does not show its reach; the mean of its neighbours stands in",
                name(*limb)
            ),
            Caveat::NoClock { limb } => {
                format!("nobody told which way {} grows, so it is drawn flat", name(*limb))
            }
            Caveat::ClockAgainstPicture { limb } => format!(
                "the hour of {} says one side and the photo the other; it is drawn flat",
                name(*limb)
            ),
            Caveat::FarFromBearer { limb, .. } => {
                format!("{} begins far from what bears it; look at its line again", name(*limb))
            }
            Caveat::CaliperBeyondEnd { limb } => {
                format!("a reading on {} lies beyond its tip and is taken there", name(*limb))
            }
        })
        .collect();
    if !seen.left_out.is_empty() {
        let names: Vec<String> = seen.left_out.iter().map(|limb| name(*limb)).collect();
        told.push(format!("not traced on that photo: {}", names.join(", ")));
    }
    told.push(
        "a photo is flat: what is nearer to the camera than the scale looks larger, about 1 % for each 2 cm at 2 m".into(),
    );
    told
}
