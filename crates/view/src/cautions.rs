//! What to be careful of with a tree, on one line with its reasons and standing, and the rust that its neighbours may pass to it.

use collection::tree::NameConfidence;
use measure::caution::{Caution, First, Poison, RustSide};

use crate::whole::{TreeWhole, Whole};

/// One caution in full.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// What to be careful of, what to do, and who decides.
    pub words: String,
    /// Where it comes from.
    pub standing: String,
}

/// The cautions of a tree.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cautions {
    /// All of them on one line.
    pub short: String,
    /// Each in full.
    pub lines: Vec<Line>,
}

/// Trees named on one line before the rest are counted.
const NAMED: usize = 3;

/// What to be careful of with a tree; none where no table has anything on its taxon.
pub fn of(whole: &Whole, tree: &TreeWhole) -> Option<Cautions> {
    let mut shorts: Vec<String> = Vec::new();
    let mut lines: Vec<Line> = Vec::new();
    for it in Caution::of(tree.tree.taxon) {
        let Some((short, words)) = told(whole, tree, it) else { continue };
        shorts.push(short);
        lines.push(Line { words, standing: it.standing().words() });
    }
    if lines.is_empty() {
        return None;
    }
    if tree.tree.name_confidence == NameConfidence::Guess {
        lines.push(Line {
            words: "Its name is a guess; so are these cautions.".into(),
            standing: "from your own records".into(),
        });
    }
    Some(Cautions { short: shorts.join("; "), lines })
}

/// The trees of the collection between which and this one rust may pass: those in the same place first.
pub fn rust_partners<'a>(whole: &'a Whole, tree: &TreeWhole) -> Vec<(&'a TreeWhole, bool)> {
    let passes = |other: &&TreeWhole| RustSide::pass(tree.tree.taxon, other.tree.taxon);
    let beside = |other: &TreeWhole| other.place.is_some() && other.place == tree.place;
    let mut partners: Vec<_> = whole.trees.iter().filter(passes).map(|it| (it, beside(it))).collect();
    partners.sort_by_key(|(_, is_beside)| !is_beside);
    partners
}

fn rust(whole: &Whole, tree: &TreeWhole, side: RustSide) -> Option<(String, String)> {
    let partners = rust_partners(whole, tree);
    if partners.is_empty() {
        return None;
    }
    let name = |(it, is_beside): &(&TreeWhole, bool)| {
        format!("{}{}", it.tree.name, if *is_beside { " (same place)" } else { "" })
    };
    let mut named: Vec<String> = partners.iter().take(NAMED).map(name).collect();
    if partners.len() > NAMED {
        named.push(format!("{} more", partners.len() - NAMED));
    }
    let named = named.join(", ");
    let (other, signs) = match side {
        RustSide::Juniper => (
            "hawthorn, pear, apple and quince",
            "Look for swollen bark and orange jelly on it in wet spring weather",
        ),
        RustSide::AppleFamily => {
            ("juniper", "Look for orange spots on its leaves and fruit from late spring to autumn")
        }
    };
    let words = format!(
        "Rust passes between it and {other}: you keep {named}. {signs}, and keep the two kinds as far apart as you can; \
         where hosts are regulated, the plant health authority decides."
    );
    Some((format!("rust from or to {named}"), words))
}

fn told(whole: &Whole, tree: &TreeWhole, it: Caution) -> Option<(String, String)> {
    let (short, words) = match it {
        Caution::Poison(poison) => self::poison(poison),
        Caution::Thorns => ("thorns".into(), "Thorns: gloves and eye cover.".into()),
        Caution::Dust => (
            "wood dust".into(),
            "Dust of its wood irritates or harms: keep it out of the lungs, as the safety sheet for the wood says.".into(),
        ),
        Caution::Listed(row) => (
            "may be regulated".into(),
            format!(
                "Listed as invasive or restricted in some regions, for example {}: ask the local authority before you sell, move or compost it.",
                row.lists
            ),
        ),
        Caution::Cites(row) => {
            let (short, head) = match row.appendix {
                Some(appendix) => (
                    format!("CITES {appendix}"),
                    format!("CITES Appendix {appendix}: papers are needed across borders, also for a tree grown in a pot"),
                ),
                None => ("CITES: ask".into(), "CITES lists relatives of it".into()),
            };
            let note = if row.note.is_empty() { String::new() } else { format!(" ({})", row.note) };
            (short, format!("{head}{note}. The CITES authority has the current list."))
        }
        Caution::WildProtected => (
            "wild plants protected".into(),
            "Wild plants are protected in several countries: keep its papers, and ask the authority before you collect, buy or sell.".into(),
        ),
        Caution::Rust(side) => return rust(whole, tree, side),
    };
    Some((short, words))
}

fn poison(it: &Poison) -> (String, String) {
    let irritates = matches!(it.first, First::Rinse | First::RinseAndAsk);
    let hurts = match it.first {
        First::Vet => "harms pets",
        First::PoisonCentreAtOnce => "deadly poison",
        _ if irritates => "irritant",
        _ => "poisonous",
    };
    let first = match it.first {
        First::PoisonCentreAtOnce => "if any was eaten, ask a poison centre at once",
        First::PoisonCentre => "if any was eaten, ask a poison centre",
        First::Vet => "if an animal ate any, ask a vet; a person, a poison centre",
        First::Rinse => "rinse, and ask a poison centre if any was eaten",
        First::RinseAndAsk => "rinse, and ask a poison centre, at once for the eyes",
        First::Gloves => "wear gloves; if any was eaten, ask a poison centre",
    };
    let gloves = if irritates { " Gloves and eye cover at the shears." } else { "" };
    let head = format!("{}{}", hurts[..1].to_uppercase(), &hurts[1..]);
    (
        format!("{hurts}: {}", it.part),
        format!("{head}: {} ({}). Keep it from children and animals; {first}.{gloves}", it.part, it.effect),
    )
}
