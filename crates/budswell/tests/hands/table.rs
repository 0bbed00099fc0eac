//! Every address that takes a form, and what two hands on it come to.

pub use super::edit::{Class, Edit};
use super::edit::{EDIT, POT, SITE, TREE};

/// Every address that takes a form.
pub const ADDRESSES: &[(&str, Class)] = &[
    ("/round", Class::Sends),
    ("/round/weigh", Class::Adds),
    ("/round/take-back", Class::Undoes),
    ("/round/fed", Class::Sets),
    ("/round/away", Class::Adds),
    ("/round/come-back", Class::Undoes),
    (
        "/round/times",
        Class::Edits(&[Edit {
            page: "/round",
            to: "/round/times",
            first: &[("morning", "05:30"), ("evening", "19:30")],
            second: &[("morning", "06:15"), ("evening", "20:15")],
            words: ["05:30", "06:15"],
            ..EDIT
        }]),
    ),
    (
        "/site",
        Class::Edits(&[
            Edit {
                page: "/site",
                to: "/site",
                both: &SITE,
                first: &[("name", "Yard by the brook")],
                second: &[("name", "Roof of the shed")],
                words: ["Yard by the brook", "Roof of the shed"],
                ..EDIT
            },
            Edit {
                page: "/start",
                to: "/site",
                both: &[SITE[0], SITE[1], SITE[2], SITE[3], SITE[4], ("back", "start")],
                first: &[("name", "Yard by the wood")],
                second: &[("name", "Roof of the barn")],
                words: ["Yard by the wood", "Roof of the barn"],
                ..EDIT
            },
        ]),
    ),
    (
        "/trees/{key}/edit",
        Class::Edits(&[Edit {
            page: "/trees/olive",
            to: "/trees/olive/edit",
            both: &TREE,
            first: &[("note", "from the south slope")],
            second: &[("note", "from the north slope")],
            words: ["from the south slope", "from the north slope"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/look", Class::Adds),
    ("/trees/{key}/leaves", Class::Adds),
    ("/trees/{key}/work", Class::Adds),
    (
        "/trees/{key}/limbs/{limb}",
        Class::Edits(&[Edit {
            page: "/trees/grey-beech/limbs",
            to: "/trees/grey-beech/limbs/4",
            first: &[("name", "the long left"), ("clock", "9"), ("tips", "")],
            second: &[("name", "the outer left"), ("clock", "10"), ("tips", "")],
            words: ["the long left", "the outer left"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/tree.mtg", Class::Adds),
    (
        "/trees/{key}/intentions",
        Class::Edits(&[Edit {
            page: "/trees/grey-beech/limbs",
            to: "/trees/grey-beech/intentions",
            both: &[("limb", "4")],
            first: &[("wish", "keep-short"), ("why", "left side is thin")],
            second: &[("wish", "let-run"), ("why", "it thickens slowly")],
            words: ["left side is thin", "it thickens slowly"],
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/intentions/{id}/end",
        Class::Edits(&[Edit {
            page: "/trees/old-trident/limbs",
            number: "action=\"/trees/old-trident/intentions/",
            to: "/trees/old-trident/intentions/{}/end",
            first: &[("how", "cut in March")],
            second: &[("how", "given up")],
            words: ["cut in March", "given up"],
            again: false,
            ..EDIT
        }]),
    ),
    ("/trees/{key}/calipers", Class::Adds),
    ("/trees/{key}/written/{what}/{id}/back", Class::Undoes),
    ("/trees/{key}/rules", Class::Sets),
    (
        "/trees/{key}/aim",
        Class::Edits(&[Edit {
            page: "/trees/black-pine/limbs",
            to: "/trees/black-pine/aim",
            both: &[("needles", "30 mm"), ("shown", "2026-11-14")],
            first: &[("words", "a coast pine")],
            second: &[("words", "a cloud over rock")],
            words: ["a coast pine", "a cloud over rock"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/cuts", Class::Adds),
    (
        "/trees/{key}/cuts/{id}/count",
        Class::Edits(&[Edit {
            page: "/trees/old-trident/plans",
            number: "action=\"/trees/old-trident/cuts/",
            to: "/trees/old-trident/cuts/{}/count",
            first: &[("broke", "2"), ("of", "5")],
            second: &[("broke", "3"), ("of", "4")],
            words: ["2 of 5", "broke: 3"],
            again: false,
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/front",
        Class::Edits(&[Edit {
            page: "/trees/red-lantern/front",
            to: "/trees/red-lantern/front",
            both: &[("rank", "2"), ("clock", "8"), ("sideways", "4"), ("forward", "2")],
            first: &[("why", "a better base")],
            second: &[("why", "the root on the left")],
            words: ["a better base", "the root on the left"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/front/drop", Class::Undoes),
    ("/pots", Class::Adds),
    ("/pots/rules", Class::Sets),
    ("/pots/photos/{key}/drop", Class::Undoes),
    // Its page needs a photo; tried in hands.rs.
    ("/pots/photos/{key}/colour", Class::Edits(&[])),
    (
        "/pots/{key}",
        Class::Edits(&[Edit {
            page: "/pots/dark-rectangle-44-cm",
            to: "/pots/dark-rectangle-44-cm",
            both: &POT,
            first: &[("note", "a chip on one foot")],
            second: &[("note", "bought from a friend")],
            words: ["a chip on one foot", "bought from a friend"],
            ..EDIT
        }]),
    ),
    ("/pots/{key}/photos", Class::Adds),
    (
        "/pots/{key}/where",
        Class::Edits(&[Edit {
            page: "/pots/dark-rectangle-44-cm",
            to: "/pots/dark-rectangle-44-cm/where",
            both: &[("where", "shelf"), ("into", "")],
            first: &[("spot", "top board")],
            second: &[("spot", "by the door")],
            words: ["top board", "by the door"],
            ..EDIT
        }]),
    ),
    ("/pots/{key}/strike", Class::Undoes),
    (
        "/pots/{key}/reserve",
        Class::Edits(&[Edit {
            page: "/pots/dark-rectangle-44-cm",
            to: "/pots/dark-rectangle-44-cm/reserve",
            both: &[("season", "2026"), ("despite", "to see it")],
            first: &[("tree", "lone-larch"), ("said", "second"), ("why", "wide enough")],
            second: &[("tree", "yew"), ("said", "never"), ("why", "too shallow")],
            words: ["wide enough", "too shallow"],
            ..EDIT
        }]),
    ),
    ("/pots/{key}/unreserve", Class::Undoes),
    (
        "/soil/stock",
        Class::Edits(&[
            Edit {
                page: "/soil",
                to: "/soil/stock",
                both: &[("item", "lava"), ("pack", "14"), ("delivery", "3")],
                first: &[("left", "31")],
                second: &[("left", "17")],
                words: ["<td>31</td>", "<td>17</td>"],
                ..EDIT
            },
            Edit {
                page: "/soil",
                to: "/soil/stock",
                both: &[("item", "kanuma"), ("pack", "14"), ("delivery", "3")],
                first: &[("left", "31")],
                second: &[("left", "17")],
                words: ["31 L left", "17"],
                ..EDIT
            },
        ]),
    ),
    (
        "/soil/blend",
        Class::Edits(&[Edit {
            page: "/soil",
            to: "/soil/blend",
            both: &[("mix", "open-mix"), ("pumice", "5")],
            first: &[("akadama", "71")],
            second: &[("akadama", "43")],
            words: ["71", "43"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/liking", Class::Adds),
    (
        "/trees/{key}/stature",
        Class::Edits(&[Edit {
            page: "/trees/lone-larch/pots",
            to: "/trees/lone-larch/stature",
            both: &[("day", "2026-03-20"), ("trunk", "9 cm")],
            first: &[("height", "78 cm")],
            second: &[("height", "81 cm")],
            words: ["78 cm high", "81 cm"],
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/grown",
        Class::Edits(&[Edit {
            page: "/trees/lone-larch/pots",
            to: "/trees/lone-larch/grown",
            both: &[("style", "literati"), ("kind", ""), ("feel", ""), ("age", ""), ("shown", "")],
            first: &[("asked", "900 EUR")],
            second: &[("asked", "700 EUR")],
            words: ["900", "700 EUR"],
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/tint",
        Class::Edits(&[Edit {
            page: "/trees/lone-larch/pots",
            to: "/trees/lone-larch/tint",
            both: &[("season", "autumn")],
            first: &[("swatch", "autumn_red")],
            second: &[("swatch", "autumn_orange")],
            words: ["autumn red", "autumn orange"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/repot", Class::Adds),
    (
        "/trees/{key}/repot/meant",
        Class::Edits(&[Edit {
            page: "/trees/lone-larch/repot",
            to: "/trees/lone-larch/repot/meant",
            both: &[("season", "2026"), ("cut", "20"), ("mix", "")],
            first: &[("repot", "yes"), ("why", "for the show")],
            second: &[("repot", "no"), ("why", "rest a year")],
            words: ["for the show", "rest a year"],
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/repot/seen",
        Class::Edits(&[Edit {
            page: "/trees/lone-larch/repot",
            to: "/trees/lone-larch/repot/seen",
            both: &[("day", "2026-03-20")],
            first: &[("drained", "35"), ("note", "moss on it")],
            second: &[("drained", "50"), ("note", "white roots")],
            words: ["moss on it", "white roots"],
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/repot/vigour",
        Class::Edits(&[Edit {
            page: "/trees/lone-larch/repot",
            to: "/trees/lone-larch/repot/vigour",
            both: &[("day", "2026-03-20")],
            first: &[("strength", "weak"), ("why", "short flush")],
            second: &[("strength", "strong"), ("why", "long flush")],
            words: ["short flush", "long flush"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/repot/toll", Class::Adds),
    ("/trees/{key}/repot/{what}/{which}/back", Class::Undoes),
    (
        "/wires/shelf",
        Class::Edits(&[Edit {
            page: "/wires",
            to: "/wires/shelf",
            both: &[("metal", "copper"), ("gauge", "2 mm")],
            first: &[("left", "333 g")],
            second: &[("left", "144 g")],
            words: ["333 g", "144 g"],
            ..EDIT
        }]),
    ),
    ("/trees/{key}/wires", Class::Adds),
    (
        "/trees/{key}/wires/{id}",
        Class::Edits(&[Edit {
            page: "/trees/stone-elm/wires",
            number: "action=\"/trees/stone-elm/wires/",
            to: "/trees/stone-elm/wires/{}",
            both: &[("day", "2026-06-20"), ("what", "seen")],
            first: &[("note", "room for a nail")],
            second: &[("note", "tight on top")],
            words: ["room for a nail", "tight on top"],
            parts: true,
            ..EDIT
        }]),
    ),
    ("/trees/{key}/layers", Class::Adds),
    (
        "/trees/{key}/layers/{id}/look",
        Class::Edits(&[Edit {
            page: "/trees/field-maple/layers",
            number: "action=\"/trees/field-maple/layers/",
            to: "/trees/field-maple/layers/{}/look",
            both: &[("day", "2026-06-20")],
            first: &[("roots", "callus")],
            second: &[("roots", "white")],
            words: ["callus only", "white roots on most sides"],
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/layers/{id}/apart",
        Class::Edits(&[Edit {
            page: "/trees/field-maple/layers",
            number: "action=\"/trees/field-maple/layers/",
            to: "/trees/field-maple/layers/{}/apart",
            both: &[("day", "2026-06-20"), ("place", "cold-frame"), ("despite", "the ring dries out")],
            first: &[("name", "Maple the second")],
            second: &[("name", "Maple of the yard")],
            words: ["cut off", "Maple of the yard"],
            again: false,
            ..EDIT
        }]),
    ),
    (
        "/trees/{key}/wounds/{id}",
        Class::Edits(&[Edit {
            page: "/trees/old-trident/layers",
            number: "action=\"/trees/old-trident/wounds/",
            to: "/trees/old-trident/wounds/{}",
            both: &[("what", "closed")],
            first: &[("day", "2026-06-20")],
            second: &[("day", "2026-06-18")],
            words: ["closed 20 Jun", "day: 2026-06-18"],
            again: false,
            ..EDIT
        }]),
    ),
    ("/trees/{key}/photos", Class::Adds),
    // Drawings travel in one field; tried in hands.rs.
    ("/photos/{key}/trace", Class::Edits(&[])),
    ("/photos/{key}/outline", Class::Edits(&[])),
    ("/photos/{key}/drop", Class::Undoes),
    ("/trees", Class::Adds),
    ("/trees/{key}/take-back", Class::Undoes),
    (
        "/moves",
        Class::Edits(&[Edit {
            page: "/trees/ginkgo",
            to: "/moves",
            both: &[("tree", "ginkgo"), ("day", "2026-03-20"), ("despite", "it was so")],
            first: &[("place", "cold-frame")],
            second: &[("place", "north-wall")],
            words: ["Cold frame", "North wall"],
            ..EDIT
        }]),
    ),
    ("/places", Class::Adds),
    ("/places/{key}/incidents", Class::Adds),
    ("/places/{key}/incidents/{id}/undo", Class::Undoes),
    ("/places/{key}/ice", Class::Adds),
    ("/places/{key}/ice/{id}/undo", Class::Undoes),
    ("/mixes", Class::Adds),
    (
        "/mixes/potted",
        Class::Edits(&[Edit {
            page: "/mixes",
            to: "/mixes/potted",
            both: &[("tree", "ginkgo"), ("pot", "celadon-oval-22-cm"), ("day", "2026-03-20")],
            first: &[("mix", "open-mix")],
            second: &[("mix", "fine-mix")],
            words: ["Open mix", "Fine mix"],
            ..EDIT
        }]),
    ),
    (
        "/mixes/crown",
        Class::Edits(&[Edit {
            page: "/mixes",
            to: "/mixes/crown",
            both: &[("tree", "ginkgo"), ("day", "2026-03-20"), ("width", "")],
            first: &[("length", "55 cm")],
            second: &[("length", "47 cm")],
            words: ["55 cm by 55 cm", "47 cm"],
            ..EDIT
        }]),
    ),
    (
        "/mixes/{key}/bucket",
        Class::Edits(&[Edit {
            page: "/mixes/open-mix/bucket",
            to: "/mixes/open-mix/bucket",
            both: &[
                ("height", "12 cm"),
                ("volume", "2"),
                ("vessel", "150 g"),
                ("flooded", "2590"),
                ("drained", "1940"),
            ],
            first: &[("dry", "1391")],
            second: &[("dry", "1402")],
            words: ["dry 1.24 kg", "1402"],
            ..EDIT
        }]),
    ),
    ("/backup", Class::Sends),
    ("/backup/{name}/restore", Class::Sends),
    ("/bring", Class::Sends),
    ("/bring/yes", Class::Sends),
    ("/fetch", Class::Sends),
    ("/clock", Class::Sends),
    ("/api/readings", Class::Adds),
];
