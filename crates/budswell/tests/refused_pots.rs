//! The forms of pots, soil and repots: refused they come back as typed; a pot with a tree stays; of two words on one pot one wins.

mod posted;
mod served;

use posted::{comes_back, encoded, first_after, form, holds, in_parts, say};
use served::Served;

fn status(answer: &str) -> u16 {
    answer.split(' ').nth(1).and_then(|code| code.parse().ok()).unwrap_or_else(|| panic!("{answer}"))
}

/// What was done last, as the site's page tells it.
fn log(at: &str) -> String {
    say(at, "GET /site", "").split_once("What was done last").unwrap().1.to_string()
}

/// The version that the forms of a pot's page start from.
fn revision(at: &str, pot: &str) -> String {
    let page = say(at, &format!("GET /pots/{pot}"), "");
    first_after(&page, "name=\"revision\" value=\"").to_string()
}

fn post(at: &str, path: &str, fields: &[(&str, &str)]) -> String {
    say(at, &format!("POST {path}"), &encoded(fields))
}

/// The alarm of a page, without its tags.
fn alarm(answer: &str) -> String {
    let (_, rest) = answer.split_once("role=\"alert\">").unwrap_or_else(|| panic!("no alarm: {answer}"));
    rest.split_once('<').unwrap().0.to_string()
}

#[test]
fn the_record_of_a_pot_comes_back_as_it_was_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let before = log(at);
    let pot = [
        ("name", "Speckled oval"),
        ("shape", "mokko"),
        ("length", "wide"),
        ("width", "26"),
        ("height", "7,5"),
        ("feet", "0.8"),
        ("measured", "2.1"),
        ("finish", "gloss"),
        ("swatch", "pot_cobalt"),
        ("feel", "feminine"),
        ("fired", "mid"),
        ("drain_holes", "2"),
        ("tie_holes", "4"),
        ("maker", "Half Moon shed"),
        ("mark", "half a moon"),
        ("condition", "chip on a foot"),
        ("paid", "90 CHF"),
        ("bought", "2026-02-14"),
        ("spot", "top board"),
        ("note", "for the plum"),
    ];
    comes_back(at, "/pots", "“wide”", &pot);
    let of = |field: &str, typed: &'static str| {
        let fields = pot.map(|(name, value)| if name == field { (name, typed) } else { (name, value) });
        fields.map(
            |(name, value)| if name == "length" && field != "length" { (name, "30") } else { (name, value) },
        )
    };
    comes_back(at, "/pots", "“dear”", &of("paid", "dear"));
    comes_back(at, "/pots", "has not come yet", &of("bought", "2027-02-14"));
    comes_back(at, "/pots", "“some”", &of("drain_holes", "some"));
    comes_back(at, "/pots", "is taken by another pot", &of("name", "Dark rectangle 44 cm"));
    let version = revision(at, "dark-rectangle-44-cm");
    let mut own = of("height", "low").to_vec();
    own.push(("revision", &version));
    comes_back(at, "/pots/dark-rectangle-44-cm", "“low”", &own);
    assert_eq!(log(at), before, "something was written");
}

#[test]
fn what_is_said_of_a_pot_comes_back_as_it_was_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let before = log(at);
    let [dark, celadon] = ["dark-rectangle-44-cm", "celadon-oval-46-cm"].map(|pot| revision(at, pot));
    let word = [
        ("said", "second"),
        ("tree", "yew"),
        ("revision", dark.as_str()),
        ("why", "should the mokko crack"),
        ("season", "1999"),
    ];
    let pot = "/pots/dark-rectangle-44-cm";
    // The year is not typed but stands in the form; what was typed is looked for alone.
    let answer = post(at, &format!("{pot}/reserve"), &word);
    assert_eq!(status(&answer), 422);
    let shown = form(answer.split_once("id=\"refused\"").unwrap().1, &format!("{pot}/reserve"), "said");
    for (field, typed) in &word[..4] {
        assert!(holds(shown, field, typed), "{field} lost “{typed}” in {shown}");
    }
    let moved = [("where", "lent"), ("spot", "to the club"), ("revision", celadon.as_str())];
    comes_back(at, "/pots/celadon-oval-46-cm/where", "holds Old trident", &moved);
    assert_eq!(log(at), before, "something was written");
}

#[test]
fn what_is_said_of_a_tree_for_its_pot_comes_back_as_it_was_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let before = log(at);
    let size = [("height", "78 cm"), ("trunk", "a fist"), ("day", "2026-03-20")];
    comes_back(at, "/trees/lone-larch/stature", "a fist", &size);
    let grown = [
        ("style", "literati"),
        ("kind", "conifer"),
        ("feel", "masculine"),
        ("age", "old"),
        ("shown", "bark"),
        ("asked", "plenty"),
    ];
    comes_back(at, "/trees/lone-larch/grown", "plenty", &grown);
    assert_eq!(log(at), before, "something was written");
}

#[test]
fn what_is_known_of_a_repot_comes_back_as_it_was_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let before = log(at);
    let to = |what: &str| format!("/trees/lone-larch/repot/{what}");
    let meant = [
        ("repot", "yes"),
        ("cut", "most"),
        ("mix", "fine-mix"),
        ("show", "yes"),
        ("why", "for the show"),
        ("season", "2026"),
    ];
    comes_back(at, &to("meant"), "“most”", &meant);
    let seen = [
        ("drained", "slowly"),
        ("twice_a_day", "yes"),
        ("rocks", "yes"),
        ("crumbled", "yes"),
        ("note", "moss on it"),
        ("day", "2026-03-20"),
    ];
    comes_back(at, &to("seen"), "“slowly”", &seen);
    let strong = [("strength", "weak"), ("why", "short flush, pale"), ("day", "2027-01-01")];
    comes_back(at, &to("vigour"), "has not come yet", &strong);
    let borne = [("what", "pest"), ("amount", "half"), ("note", "scale"), ("day", "2026-03-01")];
    comes_back(at, &to("toll"), "“half”", &borne);
    let done = [
        ("cut", "a third"),
        ("pot", "dark-rectangle-44-cm"),
        ("mix", "standard-mix"),
        ("proud", "-4"),
        ("found", "roots to the wall"),
        ("took", "50"),
        ("day", "2026-03-27"),
        ("bare", "yes"),
        ("clock", "7"),
        ("sideways", "3"),
        ("pad_length", "30"),
        ("note", "in the rain"),
    ];
    let answer = in_parts(at, "/trees/lone-larch/repot", &done, b"");
    assert_eq!(status(&answer), 422, "{}", alarm(&answer));
    assert!(alarm(&answer).contains("a third"), "{}", alarm(&answer));
    let (_, below) = answer.split_once("id=\"refused\"").unwrap();
    let shown = form(below, "/trees/lone-larch/repot", "cut");
    for (field, typed) in done {
        assert!(holds(shown, field, typed), "{field} lost “{typed}” in {shown}");
    }
    let mixed = in_parts(at, "/trees/lone-larch/repot", &[&[("cut", "20")], &done[1..]].concat(), b"");
    assert!(status(&mixed) == 422 && alarm(&mixed).contains("length, width and depth"), "{}", alarm(&mixed));
    assert_eq!(log(at), before, "something was written");
}

/// What is chosen from a list is typed too, and so is what stands in one of many rows.
#[test]
fn choices_and_rows_come_back_as_they_were_typed() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let mut lost = Vec::new();
    let mut look = |what: &str, answer: &str, path: &str, own: (&str, &str), fields: &[(&str, &str)]| {
        assert_eq!(status(answer), 422, "{what}");
        let opening = format!("<form action=\"{path}\" method=\"post\"");
        let forms = answer.split(&opening).skip(1).filter_map(|rest| Some(rest.split_once("</form>")?.0));
        let shown = forms.into_iter().find(|form| own.0.is_empty() || holds(form, own.0, own.1));
        let shown = shown.unwrap_or_else(|| panic!("{what}: its form is gone"));
        let kept = fields.iter().filter(|(field, typed)| !holds(shown, field, typed));
        lost.extend(kept.map(|(field, typed)| format!("{what}: {field} lost “{typed}”")));
    };
    let bag =
        [("item", "lava"), ("left", "9"), ("pack", "a sack"), ("delivery", "12"), ("day", "2026-03-28")];
    look("a row of the shed", &post(at, "/soil/stock", &bag), "/soil/stock", bag[0], &bag[1..4]);
    let other =
        [("item", "kanuma"), ("left", "9"), ("pack", "a sack"), ("delivery", "12"), ("day", "2026-03-28")];
    look(
        "something else in the shed",
        &post(at, "/soil/stock", &other),
        "/soil/stock",
        other[0],
        &other[1..4],
    );
    let parts = [("mix", "open-mix"), ("akadama", "lots"), ("pumice", "5"), ("lava", "2")];
    look("the parts of a mix", &post(at, "/soil/blend", &parts), "/soil/blend", parts[0], &parts[1..]);
    let taste = [("liked", "dark-rectangle-44-cm"), ("over", "dark-rectangle-44-cm")];
    let path = "/trees/lone-larch/liking";
    look("what is liked", &post(at, path, &taste), path, ("", ""), &taste);
    let path = "/pots/dark-rectangle-44-cm/photos";
    let photo = [("side", "mark"), ("day", "2026-03-20")];
    look("a photo", &in_parts(at, path, &photo, b"a letter"), path, ("", ""), &photo);
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}

#[test]
fn a_pot_with_a_tree_in_it_is_not_lent_given_away_or_struck_off() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let before = log(at);
    let pot = "celadon-oval-46-cm";
    let version = revision(at, pot);
    for to in ["lent", "gone"] {
        let fields = [("where", to), ("spot", ""), ("into", ""), ("revision", version.as_str())];
        let answer = post(at, &format!("/pots/{pot}/where"), &fields);
        assert_eq!(status(&answer), 422, "{to}");
        assert!(alarm(&answer).contains("holds Old trident"), "{to}: {}", alarm(&answer));
    }
    let struck = post(at, &format!("/pots/{pot}/strike"), &[("revision", &version)]);
    assert_eq!(status(&struck), 409, "{}", alarm(&struck));
    assert_eq!(status(&say(at, &format!("GET /pots/{pot}"), "")), 200, "it is gone all the same");
    assert_eq!(log(at), before, "something was written");
    assert!(alarm(&struck).to_lowercase().replace('-', " ").contains("old trident"), "{}", alarm(&struck));
}

/// Pots and trees are called by their names, not by what stands for them in addresses.
#[test]
fn a_no_from_the_store_calls_pot_and_tree_by_their_names() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let struck = post(at, "/pots/celadon-oval-46-cm/strike", &[("revision", "1")]);
    let version = revision(at, "lavender-oval-24-cm");
    let word = [
        ("tree", "yew"),
        ("season", "2026"),
        ("said", "promised"),
        ("despite", "to see"),
        ("revision", version.as_str()),
    ];
    let held = post(at, "/pots/lavender-oval-24-cm/reserve", &word);
    for (answer, pot, tree) in
        [(&struck, "Celadon oval 46 cm", "Old trident"), (&held, "Lavender oval 24 cm", "Winter quince")]
    {
        let told = alarm(answer);
        assert!(status(answer) == 409 && told.contains(pot) && told.contains(tree), "{told}");
    }
}

#[test]
fn a_pot_that_nobody_stood_in_is_struck_off() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let fields = [
        ("name", "Cracked at the kiln"),
        ("shape", "oval"),
        ("length", "20"),
        ("height", "6"),
        ("finish", "matt"),
    ];
    assert_eq!(status(&post(at, "/pots", &fields)), 303);
    let struck = post(at, "/pots/cracked-at-the-kiln/strike", &[("revision", "1")]);
    assert_eq!(status(&struck), 303, "{struck}");
    assert_eq!(status(&say(at, "GET /pots/cracked-at-the-kiln", "")), 404);
}

#[test]
fn a_broken_pot_frees_its_tree_to_a_box_and_says_so() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let pot = "grey-mokko-36-cm";
    let version = revision(at, pot);
    let said = [
        ("tree", "yew"),
        ("season", "2026"),
        ("said", "promised"),
        ("why", "it fits"),
        ("revision", version.as_str()),
    ];
    assert_eq!(status(&post(at, &format!("/pots/{pot}/reserve"), &said)), 303);
    let version = revision(at, pot);
    let fields = [("where", "broken"), ("spot", ""), ("into", ""), ("revision", version.as_str())];
    let answer = post(at, &format!("/pots/{pot}/where"), &fields);
    assert_eq!(status(&answer), 303, "{answer}");
    let (_, to) = answer.split_once("location: ").unwrap();
    let answer = say(at, &format!("GET {}", to.split_once("\r\n").unwrap().0), "");
    let (_, told) = answer.split_once("role=\"status\">").unwrap();
    let told = told.split_once("</p>").unwrap().0;
    // It held 3.2 L, so the box of 26 cm with its 3.1 L is too small.
    assert!(told.contains("Scots pine now stands in Training box 36 cm"), "{told}");
    assert!(told.contains("No longer promised to Yew"), "{told}");
    let tree = say(at, "GET /pots/training-box-36-cm", "");
    assert!(tree.contains("Scots pine"), "the box does not know of it");
    let share = say(at, "GET /pots/share", "");
    assert!(!share.contains("Grey mokko 36 cm"), "the plan still reckons with the broken pot");
    let again =
        post(at, &format!("/pots/{pot}/reserve"), &[said[0], said[1], said[2], said[3], ("revision", "9")]);
    assert_eq!(status(&again), 422, "a broken pot is promised");
}

#[test]
fn of_two_words_on_one_pot_the_second_is_told_and_nothing_of_it_is_lost() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let pot = "dark-rectangle-44-cm";
    let version = revision(at, pot);
    let word = |tree, why| {
        [
            ("tree", tree),
            ("season", "2026"),
            ("said", "promised"),
            ("why", why),
            ("despite", "it is cut harder"),
            ("revision", version.as_str()),
        ]
    };
    let to = format!("/pots/{pot}/reserve");
    assert_eq!(status(&post(at, &to, &word("lone-larch", "it outgrew its own"))), 303);
    let second = post(at, &to, &word("scots-pine", "older bark, older clay"));
    assert_eq!(status(&second), 409);
    assert!(alarm(&second).contains("changed on another device meanwhile"), "{}", alarm(&second));
    for typed in ["scots-pine", "promised", "older bark, older clay", "2026"] {
        assert!(second.contains(typed), "“{typed}” is lost");
    }
    let page = say(at, &format!("GET /pots/{pot}"), "");
    let (_, said) = page.split_once("id=\"said\"").unwrap();
    let said = said.split_once("<form action=\"/pots/dark-rectangle-44-cm/reserve\"").unwrap().0;
    assert!(said.contains("Lone larch") && !said.contains("Scots pine"), "{said}");
    // Begun from the page as it is now it is still held.
    let now = revision(at, pot);
    let held = post(
        at,
        &to,
        &[
            ("tree", "scots-pine"),
            ("season", "2026"),
            ("said", "kept-for"),
            ("despite", "it is cut harder"),
            ("revision", now.as_str()),
        ],
    );
    assert_eq!(status(&held), 409);
    assert!(alarm(&held).contains("held"), "{}", alarm(&held));
}

#[test]
fn a_repot_is_stricter_with_the_frost_of_the_night_and_lenient_again_when_taken_back() {
    let demo = Served::start(["demo", "--today", "2026-04-20"]);
    let at = demo.address();
    let chance = || {
        let answer = say(at, "GET /tonight.json", "");
        let told: serde_json::Value = serde_json::from_str(answer.split_once("\r\n\r\n").unwrap().1).unwrap();
        let lists = told.as_object().unwrap().values().filter_map(serde_json::Value::as_array);
        let yew = lists
            .flatten()
            .find(|row| row["name"] == "Yew")
            .and_then(|row| row["chance_of_passing_line"].as_f64());
        yew.expect("Yew is told of tonight")
    };
    let before = chance();
    let done = [
        ("cut", "25"),
        ("pot", "training-box-36-cm"),
        ("mix", "open-mix"),
        ("day", "2026-04-20"),
        ("despite", "its pot broke"),
    ];
    let answer = in_parts(at, "/trees/yew/repot", &done, b"");
    assert_eq!(status(&answer), 303, "{}", alarm(&answer));
    let after = chance();
    assert!(after > before, "as likely harmed as before: {before} then {after}");
    assert_eq!(status(&post(at, "/trees/yew/repot/repot/2026-04-20/back", &[])), 303);
    assert!((chance() - before).abs() < 1e-9);
}

/// A pot that cannot hold the tree is asked about, by a promise and at the bench; with a reason it is kept.
#[test]
fn a_pot_that_cannot_hold_its_tree_is_asked_about() {
    let demo = Served::start(["demo"]);
    let at = demo.address();
    let version = revision(at, "ochre-drum-10-cm");
    let word =
        [("tree", "lone-larch"), ("season", "2026"), ("said", "promised"), ("revision", version.as_str())];
    let to = "/pots/ochre-drum-10-cm/reserve";
    let asked = post(at, to, &word);
    assert_eq!(status(&asked), 409);
    assert!(alarm(&asked).contains("cannot hold this tree"), "{}", alarm(&asked));
    let reason: Vec<_> = word.into_iter().chain([("despite", "for a picture only")]).collect();
    assert_eq!(status(&post(at, to, &reason)), 303);
    assert!(say(at, "GET /pots/ochre-drum-10-cm", "").contains("for a picture only"));
    let log = [("pot", "celadon-mokko-28-cm"), ("mix", "standard-mix"), ("cut", "20"), ("day", "2026-03-28")];
    let asked = in_parts(at, "/trees/red-lantern/repot", &log, b"");
    assert_eq!(status(&asked), 409);
    assert!(alarm(&asked).contains("cannot hold this tree"), "{}", alarm(&asked));
}
