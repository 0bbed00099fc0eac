//! Everything the pages ask of the collection on one day, gathered and worked out once.

use std::sync::OnceLock;

use climate::record::StationDay;
use collection::{
    drink::{Away, Drink, RoundTimes},
    event::{LeafLook, Look, Work},
    place::Place,
    potting::{Crown, Mix, Pot},
    site::Site,
    tree::Tree,
    wire::Coil,
};
use jiff::civil::Date;
use measure::{
    quantity::{Gram, Units},
    shelter::Shelter,
    winter::{Hemisphere, Winter},
};
use season::{
    advice::{InStore, in_store, recovery_day},
    air::{self, Air, PlaceAir, Spot},
    autumn::{self, InLeaf},
    cooling::{COOL_NIGHT, First, Of, TOO_COLD_FOR_ROOTS, first_below},
    ground::{Ground, Roof, ground},
    limbs::{
        frost::first_frost,
        raise::{NotRaised, Seen},
    },
    repot::stand::{Ahead, ahead},
    taught::{Taught, taught},
    watering::{drinking::Drinking, scale},
    window::{Outlook, Told, TreeFacts},
};
use state::verdict::{Verdict, window_is_past};
use store::{reader::Reader, version::Version};

use crate::{
    incidents::Incident,
    sensors::{PlaceSensors, until},
    shape::{Shape, shapes},
    stand::could_heal,
    standing::{self, Shelf, Standing},
    water::Water,
};

/// A place with its air and what stands there.
#[derive(Clone, Debug)]
pub struct PlaceWhole {
    /// The place.
    pub place: Place,
    /// Its air, where there is weather.
    pub air: Option<PlaceAir>,
    /// The trees standing there, as ranks in [`Whole::trees`].
    pub trees: Vec<usize>,
    /// First day number on which cut roots could heal there.
    pub recovery: Option<i32>,
    /// Its sensors.
    pub sensors: PlaceSensors,
    /// The next four weeks there; none without weather.
    pub ahead: Option<Ahead>,
}

/// A tree with its history and what is told of it.
#[derive(Clone, Debug)]
pub struct TreeWhole {
    /// The tree.
    pub tree: Tree,
    /// Where it stands, as a rank in [`Whole::places`].
    pub place: Option<usize>,
    /// Where it was put and when.
    pub moves: Vec<(Date, usize)>,
    /// Its looks with their numbers, by day.
    pub looks: Vec<(i64, Look)>,
    /// Its looks at leaves with their numbers, by day.
    pub leaf_looks: Vec<(i64, LeafLook)>,
    /// What the looks of the whole collection teach of its pace; none without weather or winter rest.
    pub(crate) taught: Option<Taught>,
    /// Its work with their numbers, by day.
    pub works: Vec<(i64, Work)>,
    /// Its watering log with the numbers of the lines, by time.
    pub drinks: Vec<(i64, Drink)>,
    /// Readings of its scale that cannot be of its pot, by time: kept, and left out of what is learned.
    pub odd_weights: Vec<(i64, Gram)>,
    /// The pot and the mix it stands in from each day on, as ranks in [`Whole::pots`] and [`Whole::mixes`].
    pub potted: Vec<(Date, usize, usize)>,
    /// Its crown as last measured.
    pub crown: Option<Crown>,
    /// Its limbs and what is written down about them.
    pub shape: Shape,
    /// How it is grown, measured and worked: what its pot and its repot ask.
    pub standing: Standing,
    /// The tree as limbs, raised when first asked for.
    pub(crate) seen: OnceLock<Result<Seen, NotRaised>>,
    /// What its drinking in its sleep said, where it was told the forecast.
    pub drank: Option<Drinking>,
    /// The forecast, or why there is none.
    pub told: Result<Told, String>,
    /// First day number on which a place with room lets cut roots heal; none this season.
    pub recovery: Option<i32>,
    /// Whether it is in leaf today, and when its leaves turn.
    pub in_leaf: InLeaf,
    /// Whether the season's window for root work is over for good.
    pub missed: bool,
    /// The verdicts, worked out when first asked for.
    pub(crate) verdicts: OnceLock<Box<[Verdict]>>,
    /// Whether it opens in the dark.
    pub in_store: InStore,
}

/// The collection on one day.
#[derive(Clone, Debug)]
pub struct Whole {
    /// How much had happened when it was read.
    pub changes: i64,
    /// The version that edits begun on its pages start from.
    pub version: Version,
    /// The day.
    pub today: Date,
    /// The site, once set.
    pub site: Option<Site>,
    /// The places.
    pub places: Vec<PlaceWhole>,
    /// The trees.
    pub trees: Vec<TreeWhole>,
    /// The air outside.
    pub outside: Option<Air>,
    /// The days of every place, the open air last; or why there are none.
    pub ground: Result<Ground, String>,
    /// Whether a typical year stands in for days nobody measured.
    pub has_typical: bool,
    /// How many of the station's days come from a weather model.
    pub modelled_days: u32,
    /// When the forecast was fetched, seconds since 1970.
    pub fetched: Option<i64>,
    /// The pots.
    pub pots: Vec<Pot>,
    /// The mixes.
    pub mixes: Vec<Mix>,
    /// Shifts and absences.
    pub aways: Vec<Away>,
    /// When the rounds are walked.
    pub rounds: RoundTimes,
    /// Wire on the shelf.
    pub coils: Vec<Coil>,
    /// The pots beyond their measures, the words on them, and what stands in the shed.
    pub shelf: Shelf,
    /// The station's days, by date.
    pub station: Vec<StationDay>,
    /// Bad days of places as the grower kept them, with their numbers, by time.
    pub kept: Vec<(i64, collection::incident::Incident)>,
    /// Bad days that nobody answered yet, by place, worked out when first asked for.
    pub(crate) bad_days: OnceLock<Vec<Vec<Incident>>>,
    /// Demand and pots, worked out when first asked for.
    pub(crate) water: OnceLock<Option<Water>>,
    /// When the site cools, worked out when first asked for.
    pub(crate) autumn: OnceLock<Autumn>,
}

/// When the site cools, by its past autumns.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Autumn {
    /// The mean first frost.
    pub(crate) frost: Option<Date>,
    /// The first cool night.
    pub(crate) cool: Option<First>,
    /// The first day too cold for cut roots.
    pub(crate) roots_stop: Option<First>,
}

impl Whole {
    /// The units that the grower reads and types.
    pub fn units(&self) -> Units {
        self.site.as_ref().map_or(Units::Metric, |site| site.units)
    }

    /// When the site cools.
    pub(crate) fn autumn(&self) -> Autumn {
        *self.autumn.get_or_init(|| {
            let side = self.site.as_ref().map_or(Hemisphere::North, |site| Hemisphere::of(site.latitude));
            let below = |what| first_below(&self.station, side, self.today, what);
            Autumn {
                frost: first_frost(&self.station, side, self.today).map(|it| it.middle),
                cool: below((Of::Night, COOL_NIGHT)),
                roots_stop: below((Of::Day, TOO_COLD_FOR_ROOTS)),
            }
        })
    }

    /// A tree by its key.
    pub fn tree(&self, key: &str) -> Option<&TreeWhole> {
        self.trees.iter().find(|tree| tree.tree.key == key)
    }
}

/// Reads and works out everything for one day.
///
/// # Errors
///
/// [`store::error::Error`] when the collection cannot be read.
pub fn whole(reader: &Reader, today: Date) -> Result<Whole, store::error::Error> {
    let (changes, version) = (reader.changes()?, reader.version()?);
    let site = reader.site()?;
    let forecast = reader.forecast()?;
    let mut has_typical = false;
    let mut station = Vec::new();
    let (outside, sun, spot) = match &site {
        Some(site) => {
            let spot = Spot { latitude: site.latitude, longitude: site.longitude };
            let told = forecast.as_ref().map_or(&[][..], |(_, hours)| hours);
            station = reader.station_days()?;
            station.retain(|day: &StationDay| day.date <= today);
            let hours: Vec<_> = reader
                .station_hours()?
                .into_iter()
                .filter(|hour| spot.solar_date(hour.at) <= today)
                .collect();
            let typical = reader.typical_year()?;
            has_typical = !typical.is_empty();
            let outside = air::outside(spot, &station, &hours, told, today, &typical);
            let outside = outside.unwrap_or_default();
            let sun = outside.as_ref().map_or_else(Vec::new, |outside| air::sun_on(spot, outside));
            (outside, sun, Some(spot))
        }
        None => (None, Vec::new(), None),
    };
    let mut places = Vec::new();
    let mut checks = reader.ice_checks()?;
    checks.retain(|(_, it)| it.day <= today);
    for place in reader.places()? {
        let mut sensors = PlaceSensors::default();
        let air = match (&outside, spot) {
            (Some(outside), Some(spot)) => {
                let logged = until(reader.logged(&place.key)?, spot, today);
                sensors = PlaceSensors::of(&place.key, &logged, spot, &checks);
                Some(air::place_of(spot, outside, &sun, place.shelter, &logged.together))
            }
            _ => None,
        };
        places.push(PlaceWhole { place, air, trees: Vec::new(), recovery: None, ahead: None, sensors });
    }
    let ground = stand(&places, outside.as_ref(), spot, today);
    if let Ok(ground) = &ground {
        for (rank, place) in places.iter_mut().enumerate() {
            let dark = matches!(place.place.shelter, Shelter::ColdRoom);
            place.recovery = if dark { None } else { recovery_day(ground, rank) };
            place.ahead = ahead(ground, rank);
        }
    }
    let mut whole = Whole {
        changes,
        version,
        today,
        site,
        places,
        trees: Vec::new(),
        outside,
        ground,
        has_typical,
        modelled_days: reader.modelled_days(today)?,
        fetched: forecast.map(|(fetched, _)| fetched),
        pots: reader.pots()?,
        mixes: reader.mixes()?,
        aways: reader.aways()?,
        rounds: reader.round_times()?.unwrap_or(RoundTimes::USUAL),
        coils: reader.coils()?,
        shelf: Shelf::default(),
        station,
        kept: reader.incidents()?.into_iter().filter(|(_, it)| it.day <= today).collect(),
        bad_days: OnceLock::new(),
        water: OnceLock::new(),
        autumn: OnceLock::new(),
    };
    whole.shelf = standing::shelf(reader, &whole)?;
    whole.trees = trees(reader, &whole)?;
    for rank in 0..whole.trees.len() {
        if let Some(place) = whole.trees[rank].place {
            whole.places[place].trees.push(rank);
        }
    }
    Ok(whole)
}

pub(crate) fn stand(
    places: &[PlaceWhole],
    outside: Option<&Air>,
    spot: Option<Spot>,
    today: Date,
) -> Result<Ground, String> {
    let (Some(outside), Some(spot)) = (outside, spot) else {
        return Err("no weather yet: set the site and import a station's record".into());
    };
    let open = Roof { shelter: Shelter::OpenBench, lamp: None, known: true };
    let airs: Vec<(&Air, Roof)> = places
        .iter()
        .filter_map(|place| {
            let air = place.air.as_ref()?;
            let known = air.logged > 0 || place.place.shelter == Shelter::OpenBench;
            let roof = Roof { shelter: place.place.shelter, lamp: place.place.lamp, known };
            Some((&air.air, roof))
        })
        .chain([(outside, open)])
        .collect();
    let mut ground = ground(spot.latitude, &airs, today).map_err(|why| why.to_string())?;
    let with_air = places.iter().filter_map(|place| place.air.as_ref());
    for (rank, cold) in with_air.enumerate().filter_map(|(rank, it)| Some((rank, it.cold.as_ref()?))) {
        ground.take_lows(rank, &cold.air);
    }
    Ok(ground)
}

fn trees(reader: &Reader, whole: &Whole) -> Result<Vec<TreeWhole>, store::error::Error> {
    let (moves, looks, works) = (reader.moves()?, reader.looks()?, reader.works()?);
    let rank_of = |key: &str| whole.places.iter().position(|place| place.place.key == key);
    let today = whole.today;
    let winter = Winter::holding(today, crate::limbs::grows::hemisphere(whole));
    let mut trees: Vec<TreeWhole> = reader
        .trees()?
        .into_iter()
        .map(|tree| TreeWhole {
            in_leaf: InLeaf::by_date(tree.taxon, winter.day_number(today), &[]),
            tree,
            place: None,
            moves: Vec::new(),
            looks: Vec::new(),
            leaf_looks: Vec::new(),
            taught: None,
            works: Vec::new(),
            drinks: Vec::new(),
            odd_weights: Vec::new(),
            potted: Vec::new(),
            crown: None,
            shape: Shape::default(),
            standing: Standing::default(),
            seen: OnceLock::new(),
            drank: None,
            told: Err(String::new()),
            recovery: None,
            missed: false,
            verdicts: OnceLock::new(),
            in_store: InStore::Fine,
        })
        .collect();
    let ranks: std::collections::HashMap<String, usize> =
        trees.iter().enumerate().map(|(rank, tree)| (tree.tree.key.clone(), rank)).collect();
    for it in moves {
        if let (Some(&tree), Some(place)) =
            (ranks.get(&it.tree).filter(|_| it.day <= today), rank_of(&it.place))
        {
            trees[tree].moves.push((it.day, place));
        }
    }
    for (id, look) in looks {
        if let Some(&tree) = ranks.get(&look.tree).filter(|_| look.day <= today) {
            trees[tree].looks.push((id, look));
        }
    }
    for (id, look) in reader.leaf_looks()? {
        if let Some(&tree) = ranks.get(&look.tree).filter(|_| look.day <= today) {
            trees[tree].leaf_looks.push((id, look));
        }
    }
    for tree in &mut trees {
        let now = winter.day_number(today);
        let (leaves, buds) = (tree.leaf_looks.iter().map(|(_, it)| it), tree.looks.iter().map(|(_, it)| it));
        let seen = autumn::evidence(winter, leaves, buds, now);
        tree.in_leaf = InLeaf::by_date(tree.tree.taxon, now, &seen);
    }
    for (id, work) in works {
        if let Some(&tree) = ranks.get(&work.tree).filter(|_| work.day <= today) {
            trees[tree].works.push((id, work));
        }
    }
    pots_and_drinks(reader, whole, &ranks, &mut trees)?;
    for (tree, shape) in trees.iter_mut().zip(shapes(reader, &ranks, today)?) {
        tree.shape = shape;
    }
    standing::standings(reader, &ranks, &mut trees, today)?;
    match &whole.ground {
        Ok(ground) => {
            for tree in &mut trees {
                tree.drank = crate::water::drank(whole, tree, None);
            }
            let mut outlook = Outlook::new(ground);
            let told: Vec<TreeFacts<'_>> = trees.iter().map(|tree| facts(tree, whole)).collect();
            let taught = taught(&mut outlook, &told);
            trees.iter_mut().zip(taught).for_each(|(tree, taught)| tree.taught = taught);
            let mut standing = vec![0_u32; whole.places.len()];
            for tree in &trees {
                if let Some(place) = stands(&tree.moves, today) {
                    standing[place] += 1;
                }
            }
            for tree in &mut trees {
                let own = stands(&tree.moves, today);
                let takes = |rank: usize| {
                    own == Some(rank)
                        || whole.places[rank].place.capacity.is_none_or(|room| standing[rank] < room)
                };
                let recovery = (0..whole.places.len())
                    .filter(|&rank| takes(rank) && could_heal(tree.tree.taxon, &whole.places[rank]))
                    .filter_map(|rank| whole.places[rank].recovery);
                tree.recovery = recovery.min();
                tell(tree, &mut outlook, whole);
            }
        }
        Err(why) => trees.iter_mut().for_each(|tree| {
            tree.place = stands(&tree.moves, today);
            tree.told = Err(why.clone());
        }),
    }
    Ok(trees)
}

/// What each tree stands in, how wide it is, and its watering log.
fn pots_and_drinks(
    reader: &Reader,
    whole: &Whole,
    ranks: &std::collections::HashMap<String, usize>,
    trees: &mut [TreeWhole],
) -> Result<(), store::error::Error> {
    let pots: std::collections::HashMap<&str, usize> =
        whole.pots.iter().enumerate().map(|(rank, pot)| (pot.key.as_str(), rank)).collect();
    for it in reader.potted()?.into_iter().filter(|it| it.day <= whole.today) {
        let mix = whole.mixes.iter().position(|mix| mix.key == it.mix);
        if let (Some(&tree), Some(&pot), Some(mix)) = (ranks.get(&it.tree), pots.get(it.pot.as_str()), mix) {
            trees[tree].potted.push((it.day, pot, mix));
        }
    }
    for crown in reader.crowns()?.into_iter().filter(|it| it.day <= whole.today) {
        if let Some(&tree) = ranks.get(&crown.tree) {
            trees[tree].crown = Some(crown);
        }
    }
    let zone = whole.site.as_ref().and_then(|site| jiff::tz::TimeZone::get(&site.zone).ok());
    let zone = zone.unwrap_or(jiff::tz::TimeZone::UTC);
    for (id, drink) in reader.drinks()? {
        let day = jiff::Timestamp::from_second(drink.at).map(|at| zone.to_datetime(at).date());
        let has_come = day.is_ok_and(|day| day <= whole.today);
        if let Some(&tree) = ranks.get(&drink.tree).filter(|_| has_come) {
            trees[tree].drinks.push((id, drink));
        }
    }
    let end = whole.today.tomorrow().map_or(i64::MAX, |next| crate::water::midnight(next, &zone));
    for key in reader.weighed()? {
        let Some(&tree) = ranks.get(&key) else { continue };
        let mut readings = reader.weights(&key)?;
        readings.retain(|(at, _)| *at < end);
        let own = &mut trees[tree].drinks;
        let [fit, odd] = scale::parted(&readings);
        own.extend(scale::lines(&key, &fit).into_iter().map(|line| (BY_SCALE, line)));
        own.sort_by_key(|(_, drink)| drink.at);
        trees[tree].odd_weights = odd;
    }
    Ok(())
}

/// The number of a log line that a scale made and nobody can take back.
pub const BY_SCALE: i64 = -1;

pub(crate) fn stands(moves: &[(Date, usize)], today: Date) -> Option<usize> {
    moves.iter().rev().find(|(day, _)| *day <= today).map(|(_, place)| *place)
}

fn tell(tree: &mut TreeWhole, outlook: &mut Outlook<'_>, whole: &Whole) {
    tree.place = stands(&tree.moves, whole.today);
    let told = outlook.tell(&facts(tree, whole));
    if let (Ok(told), Some(place)) = (&told, tree.place) {
        tree.in_store = in_store(told, whole.places[place].place.shelter);
    }
    if let Ok(told) = &told {
        tree.in_leaf = told.leaf;
    }
    tree.told = told.map_err(|why| why.to_string());
    tree.missed = window_is_past(&crate::verdicts::bud_facts(whole, tree));
}

/// A tree's facts as the forecast takes them; a tree that was never put anywhere stands in the open air.
pub fn facts<'a>(tree: &'a TreeWhole, whole: &Whole) -> TreeFacts<'a> {
    let open_air = whole.places.len();
    let moves = if tree.moves.is_empty() { vec![(Date::MIN, open_air)] } else { tree.moves.clone() };
    TreeFacts {
        taxon: tree.tree.taxon,
        moves,
        looks: tree.looks.iter().map(|(_, look)| look).collect(),
        leaf_looks: tree.leaf_looks.iter().map(|(_, look)| look).collect(),
        works: tree.works.iter().map(|(_, work)| work).collect(),
        taught: tree.taught.as_ref(),
        recorded: !tree.moves.is_empty(),
        drank: tree.drank,
    }
}
