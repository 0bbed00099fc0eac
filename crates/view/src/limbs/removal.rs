//! When a limb that was let run is taken off once it has done its work, and the scar that leaves.

use form::{
    thickness::{Likely, thicker},
    wound::{Closes, Closing, closing},
};
use jiff::civil::Date;
use measure::quantity::{Millimetre, Years};
use season::work_months::WorkMonths;
use state::{verdict::Answer, work::Work};

use super::{
    grows::{self, course, growing},
    seen, thick,
};
use crate::{
    verdicts,
    whole::{TreeWhole, Whole},
    words,
};

/// A limb's removal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Removal {
    /// The first day on which live wood of its kind may be cut hard; its month is proposed.
    pub from: Date,
    /// Width of the scar: the base of the limb, cut flush.
    pub scar: Millimetre,
    /// When the scar closes at the growth of the limb that bears it; none where that was never measured.
    pub closing: Option<Closing>,
}

/// When a limb is best taken off, and what scar it leaves; none for the trunk.
pub fn removal(whole: &Whole, tree: &TreeWhole, limb: u32, base: Millimetre) -> Option<Removal> {
    let shape = &tree.shape;
    let bearer = shape.bearer(limb)?;
    let row = WorkMonths::of(tree.tree.taxon);
    let from = match verdicts::on(whole, tree, Work::HardPrune).answer {
        Answer::Yes | Answer::Caution | Answer::LookFirst => whole.today,
        Answer::NotNow { until: Some(day) } => day,
        _ => row.hard_prune.next_start(whole.today, grows::hemisphere(whole))?,
    };
    let growth = seen(whole, tree).ok().and_then(|seen| {
        let thickness = seen.base(bearer)?;
        let growing = growing(whole, tree, seen)?;
        let ring = growing.ring(bearer, &|it| course(whole, shape, it)).ok()??;
        Some(ring.map(|ring| Millimetre(thicker(thickness, ring).0 - thickness.0)))
    });
    let closing = growth.and_then(|growth: Likely<Millimetre>| closing(base, growth).ok());
    Some(Removal { from, scar: base, closing })
}

/// A removal in words.
pub fn words(whole: &Whole, it: &Removal) -> String {
    let scar = thick(whole.units(), it.scar);
    let years =
        |years: Option<Years>| years.map_or_else(|| "never".into(), |years| format!("{:.1}", years.0));
    let closes = match &it.closing {
        None => ", and how fast it closes is not known".to_string(),
        Some(told) => {
            let doubt = match told.closes {
                Closes::BeforeDecay => "",
                Closes::Perhaps => ", before decay only if it grows well",
                Closes::AfterDecay => ", likely after decay sets in",
            };
            format!(
                " that closes in about {} years ({} to {}){doubt}",
                years(told.years.middle),
                years(told.years.low),
                years(told.years.high)
            )
        }
    };
    let when = if it.from <= whole.today {
        "it may come off now".to_string()
    } else {
        format!("it may come off from {}", words::day(it.from, whole.today))
    };
    format!("{when}; cut flush it leaves a scar of {scar}{closes}; every season more makes it wider")
}
