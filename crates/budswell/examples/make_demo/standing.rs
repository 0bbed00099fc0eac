//! How the demo's trees are grown, how large and strong they are and which colours they show, as an invented grower wrote it down.

use std::fmt::Write;

/// One line a tree, parted by bars: name; style, kind, feel, age, season shown, asked; height and trunk in cm in autumn 2025; colours
/// of bark, leaf, autumn, flower, fruit. What stands empty was never written down.
#[rustfmt::skip]
const STANDING: [&str; 39] = [
    "Old trident|informal-upright||feminine|old|||53|8.8|bark_pale_grey|leaf_summer|autumn_orange||",
    "Trident on rock|over-rock||between|middle|||41|6.2|bark_pale_grey|leaf_summer|autumn_orange||",
    "Slender trident|literati||feminine|young|||38|2.4|bark_pale_grey|||",
    "Red lantern|informal-upright||feminine|old|autumn||62|8.7|bark_pale_grey|leaf_summer|autumn_red||",
    "Mountain maple|windswept||between|middle|||41|5.6|bark_grey_brown|leaf_summer|autumn_red||",
    "Broom maple|broom||feminine|middle|||38|4.4|bark_pale_grey|leaf_spring|autumn_orange||",
    "Clump of five|clump||feminine|middle|||58|5.2|bark_pale_grey|leaf_spring|autumn_red||",
    "Field maple|informal-upright||between|young|||36|4.8|bark_grey_brown||autumn_yellow||",
    "Winter quince|clump|flowering|feminine|middle|flower||27|3.1|bark_grey_brown|leaf_summer||flower_red|",
    "Low quince|||||||13|1.9||||flower_pink|",
    "First plum|slanting|flowering|between|old|flower||34|6.6|bark_dark_brown|||flower_white|",
    "Second plum|literati|flowering||young|||29|2.0||||flower_pink|",
    "Hedge thorn|informal-upright|flowering|masculine|middle|flower||52|7.9|bark_grey_brown|leaf_summer||flower_white|",
    "Leaning thorn|slanting|flowering|between|middle|||26|3.6|bark_grey_brown|||flower_white|",
    "Larch forest|forest|||middle|||68|4.9|bark_red_brown|leaf_spring|autumn_yellow||",
    "Lone larch|formal-upright||masculine|middle|||78|8.6|bark_red_brown|leaf_spring|autumn_yellow||",
    "Larch twins|clump||between|young||620 CHF|42|3.9|bark_red_brown|leaf_spring|||",
    "Grey beech|informal-upright|rough-deciduous|masculine|middle|||66|8.4|bark_pale_grey|leaf_summer|autumn_orange||",
    "Sleeping beech|informal-upright||between|middle|||43|5.5|bark_pale_grey||||",
    "White beech|broom||feminine|middle|||56|7.0|66.8 0.2 5.1|leaf_summer|autumn_orange||",
    "Garden hornbeam|informal-upright||between|middle|||50|6.7|bark_grey_brown|leaf_summer|autumn_yellow||",
    "Hornbeam grove|forest||feminine|middle|||52|6.1|bark_grey_brown|leaf_summer|autumn_yellow||",
    "Far hornbeam|informal-upright||feminine|young|||33|3.2|||autumn_red||",
    "Broom elm|broom||feminine|old|||54|5.9|bark_pale_grey|leaf_spring|autumn_orange||",
    "Small zelkova|broom||feminine|young|||17|2.2|bark_pale_grey||||",
    "Market elm|informal-upright||feminine|middle|||29|3.8|bark_grey_brown|leaf_summer|||",
    "Stone elm|informal-upright||between|middle|||38|5.2|58.3 4.0 14.6|leaf_summer|autumn_yellow||",
    "River birch|slanting||feminine|middle|||52|4.6|82.4 0.3 4.0|leaf_spring|autumn_yellow||",
    "Little lime|informal-upright||between|middle|||62|6.6|bark_grey_brown|leaf_summer|autumn_yellow||",
    "Oak from seed|informal-upright||masculine|middle|||70|10.5|bark_grey_brown|leaf_summer|autumn_orange||",
    "Crab apple|informal-upright|fruiting|between|middle|fruit||42|6.0|bark_grey_brown|leaf_summer||flower_pink|41.0 52.8 36.0",
    "Cherry of May|informal-upright|flowering|feminine|middle|flower|480 CHF|36|3.9||leaf_spring||flower_pink|",
    "Ginkgo|formal-upright||masculine|middle|||56|7.4|bark_grey_brown|leaf_summer|autumn_yellow||",
    "Black pine|informal-upright||masculine|old|||68|9.8|bark_dark_brown|leaf_dark_conifer|||",
    "Scots pine|informal-upright||masculine|middle|||66|7.8|bark_red_brown|leaf_blue_conifer|||",
    "Juniper cascade|cascade||masculine|old|||58|6.8|bark_red_brown|leaf_blue_conifer|||",
    "Yew|informal-upright||between|middle|||60|7.6|38.1 15.2 13.9|leaf_dark_conifer|||",
    "Box|informal-upright||masculine|middle|||35|4.2|bark_grey_brown|leaf_summer|||",
    "Olive|||masculine||||36|6.9||||",
];

/// Judgments of strength by hand: tree, day, strength, why.
#[rustfmt::skip]
const VIGOUR: &str = "\
Second plum,2025-06-14,normal,shoots of a hand's length
Second plum,2025-10-25,weak,lost a third of its leaf to scale
Second plum,2026-06-13,weak,few shoots and short
Second plum,2026-10-24,normal,buds as thick as a year before
Broom elm,2025-06-14,strong,shoots all over by May
Broom elm,2025-10-25,strong,fat buds to the tips
Market elm,2025-10-25,strong,still growing in October
Market elm,2026-06-13,strong,
Trident on rock,2025-10-25,strong,three flushes
Trident on rock,2026-06-13,weak,sulks since the late repot and the frost
Trident on rock,2026-10-24,normal,came round by August
Sleeping beech,2026-06-13,weak,woke late and by halves
";

/// The grower's two rounds of judging in 2025, and those of 2026.
const ROUNDS: [&str; 4] = ["2025-06-14", "2025-10-25", "2026-06-13", "2026-10-24"];

/// The day of the large round with the measuring stick, and the one before.
const MEASURED: [&str; 2] = ["2024-10-26", "2025-10-25"];

const SEASONS: [&str; 5] = ["bark", "leaf", "autumn", "flower", "fruit"];

/// The four sheets: grown, statures, tints, vigour.
pub fn sheets() -> [(&'static str, String); 4] {
    let mut grown = String::from("tree,style,kind,feel,age,shown,asked\n");
    let mut statures = String::from("tree,day,height,trunk\n");
    let mut tints = String::from("tree,season,swatch,l,a,b\n");
    let mut vigour = String::from("tree,day,strength,why\n");
    vigour.push_str(VIGOUR);
    for (rank, told) in STANDING.iter().enumerate() {
        let cells: Vec<&str> = told.split('|').collect();
        let name = cells[0];
        if cells[1..7].iter().any(|cell| !cell.is_empty()) {
            writeln!(grown, "{}", cells[..7].join(",")).expect("a string takes all");
        }
        let [height, trunk] = [cells[7], cells[8]].map(|cell| cell.parse::<f64>().expect("a measure"));
        if rank % 3 == 0 {
            let (height, trunk) = ((height * 0.96).round(), trunk - 0.2);
            writeln!(statures, "{name},{},{height},{trunk:.1}", MEASURED[0]).expect("a string takes all");
        }
        writeln!(statures, "{name},{},{height},{trunk}", MEASURED[1]).expect("a string takes all");
        for (season, colour) in SEASONS.iter().zip(&cells[9..]).filter(|(_, colour)| !colour.is_empty()) {
            let numbers: Vec<&str> = colour.split(' ').collect();
            if numbers.len() == 3 {
                writeln!(tints, "{name},{season},,{}", numbers.join(",")).expect("a string takes all");
            } else {
                writeln!(tints, "{name},{season},{colour},,,").expect("a string takes all");
            }
        }
        // What was judged by hand stands above; the rest was found as it should be.
        for (round, day) in ROUNDS.iter().enumerate() {
            let judged = (rank + round) % 2 == 0 && !VIGOUR.contains(&format!("{name},{day}"));
            if judged {
                writeln!(vigour, "{name},{day},normal,").expect("a string takes all");
            }
        }
    }
    [("grown.csv", grown), ("statures.csv", statures), ("tints.csv", tints), ("vigour.csv", vigour)]
}
