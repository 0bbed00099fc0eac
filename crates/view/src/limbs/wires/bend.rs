//! What a bend asks for: the wire by rule and by mechanics, the strain of the wood, and a guy instead.

use collection::limb::Limb;
use form::{
    wire::{Answer, Ask, Danger, answer, metal::Metal},
    wood,
};
use measure::quantity::{Millimetre, Units};

use super::{
    super::{long, seen, thick},
    COILED, gauge_words,
};
use crate::whole::{TreeWhole, Whole};

/// What a bend asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Bend {
    /// The limb.
    pub limb: String,
    /// What is told, line by line.
    pub lines: Vec<String>,
    /// What is not known.
    pub caveats: Vec<String>,
    /// Whether the bend is dangerous.
    pub alarm: bool,
}

/// A bend as asked for.
#[derive(Clone, Copy, Debug, Default)]
pub struct BendAsked<'a> {
    /// Which limb.
    pub limb: &'a str,
    /// The radius, as typed.
    pub radius: &'a str,
    /// How far along the limb, as typed; empty for its whole line.
    pub along: &'a str,
    /// Its thickness, as typed; empty to take what is known.
    pub thick: &'a str,
    /// The metal.
    pub metal: &'a str,
    /// How many strands.
    pub strands: &'a str,
}

/// What a bend asks for: gauge by rule and by mechanics, strain, length and weight, and a guy instead.
///
/// # Errors
///
/// What cannot be taken, for the reader.
pub fn bend(whole: &Whole, tree: &TreeWhole, asked: BendAsked<'_>) -> Result<Bend, String> {
    let (shape, units) = (&tree.shape, whole.units());
    let limb: &Limb = asked
        .limb
        .parse()
        .ok()
        .and_then(|number| shape.limb(number))
        .ok_or_else(|| "choose a limb".to_string())?;
    let seen = seen(whole, tree).ok();
    let mut caveats = Vec::new();
    let known = seen.and_then(|seen| seen.base(limb.number));
    let branch = typed(asked.thick, units)
        .transpose()?
        .or(known)
        .ok_or_else(|| format!("nobody measured {}: type how thick it is", limb.name))?;
    if asked.thick.trim().is_empty() {
        caveats.push(format!("its thickness, {}, is that on the Branches page", thick(units, branch)));
    }
    let line = seen.and_then(|seen| seen.length(limb.number));
    let along = typed(asked.along, units).transpose()?.or(line).unwrap_or(Millimetre(15.0 * branch.0));
    let radius =
        typed(asked.radius, units).transpose()?.ok_or_else(|| "type the radius of the bend".to_string())?;
    let stand = wood::for_taxon(tree.tree.taxon);
    let ask = Ask {
        branch,
        along,
        radius,
        wood: stand.wood,
        young: true,
        metal: Metal::from_key(asked.metal).unwrap_or(Metal::Aluminium),
        strands: asked.strands.parse().unwrap_or(1),
        angle: COILED,
        anchor: limb.bearer.and_then(|bearer| seen.and_then(|seen| seen.base(bearer))),
    };
    let told = answer(&ask).map_err(|why| why.to_string())?;
    if !stand.own {
        caveats.push(format!("no figures of its own wood were found: {} stands in", stand.wood.name));
    }
    caveats.push(format!("wood: {}", stand.wood.standing.words()));
    caveats.push("mechanics leaves out that living wood gives and creeps: use it to compare wires, and start from the rule".into());
    let alarm = matches!(told.danger, Danger::Wrapped | Danger::Cracks);
    Ok(Bend { limb: limb.name.clone(), lines: lines(&ask, &told, units), caveats, alarm })
}

/// A length in millimetres or inches; none where nothing was typed.
fn typed(text: &str, units: Units) -> Option<Result<Millimetre, String>> {
    let lower = text.trim().to_lowercase();
    if lower.is_empty() {
        return None;
    }
    let bare = if units == Units::Imperial { 25.4 } else { 1.0 };
    let (figure, scale) = [("mm", 1.0), ("cm", 10.0), ("in", 25.4)]
        .into_iter()
        .find_map(|(unit, scale)| Some((lower.strip_suffix(unit)?, scale)))
        .unwrap_or((&lower, bare));
    let figure = figure.trim().replace(',', ".").parse::<f64>().ok().filter(|it| *it > 0.0 && it.is_finite());
    Some(figure.map(|it| Millimetre(it * scale)).ok_or_else(|| format!("“{text}” is not a length")))
}

fn lines(ask: &Ask, told: &Answer, units: Units) -> Vec<String> {
    let metal = ask.metal.key();
    let by_rule = match ask.metal {
        Metal::Aluminium => told.by_table.value.aluminium,
        Metal::Copper => told.by_table.value.copper,
    };
    let strands = if ask.strands > 1 { format!("{} strands of ", ask.strands) } else { String::new() };
    let take = told.take.map_or_else(
        || "no single wire sold is thick enough: take two strands, or a guy".to_string(),
        |gauge| format!("take {strands}{metal} {}", gauge_words(units, gauge)),
    );
    let percent = |it: f64| format!("{:.1} %", it * 100.0);
    let danger = match told.danger {
        Danger::Fine => "fine on wood that is not of this year",
        Danger::InSteps => "bend in steps over days and support the outside",
        Danger::Wrapped => "wrap it with raffia or tape, take two wires or a guy; notch only with experience",
        Danger::Cracks => {
            "expect cracks unless the shoot is of this year: a wider bend, or a guy over a season or two"
        }
    };
    let strain = format!(
        "Strain of the outside {}: {danger} (limits are our estimate). Stop at the first sound",
        percent(told.strain.0)
    );
    let mut lines = vec![
        format!(
            "{take}. By the rule of the trade {metal} {} ({})",
            gauge_words(units, by_rule),
            told.by_table.standing.words()
        ),
        format!(
            "By mechanics {} ({} to {}), across the stiffness of the wood and how much of the bend is springy (our estimate)",
            gauge_words(units, told.by_mechanics.middle),
            gauge_words(units, told.by_mechanics.low),
            gauge_words(units, told.by_mechanics.high)
        ),
        strain,
        format!(
            "Wire to cut: {} in all, {}, coiled at 50° with an anchor of one and a half turns; the third more of the rule would be too short",
            long(units, told.length),
            units.weight(told.weight)
        ),
        guy(told),
        "Cut ends of wire spring: protect your eyes".into(),
    ];
    if matches!(told.danger, Danger::Wrapped | Danger::Cracks) {
        // Whether to bend at all comes before the gauge.
        lines[..3].rotate_right(1);
    }
    lines
}

/// More pull than this is not for a guy on a pot, our estimate, N.
const MOST_PULL: f64 = 150.0;

fn guy(told: &Answer) -> String {
    let (pull, pressure) = (told.guy.tension.0, told.guy.pressure.0);
    if pull > MOST_PULL {
        return "A guy instead would have to pull harder than a pot and the bark can bear: bend less, over more seasons".into();
    }
    let limit = form::wire::guy::BARK_BEARS.value.0;
    let pad = if pressure > limit { ": more than bark should bear, pad it with a wider strap" } else { "" };
    format!(
        "A guy instead: pull about {pull:.0} N ({:.1} kg) at the end of the bend; it presses {pressure:.2} MPa on a strap as wide as the limb{pad} (our estimate)",
        pull / 9.806_65
    )
}
