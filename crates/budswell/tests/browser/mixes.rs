//! A bucket test on a telephone: five weighings give the mix its own numbers; weighings that contradict are named.

use crate::{
    served::Served,
    window::{PHONE, Window, unwanted},
};

const BUTTON: &str = "form[action=\"/mixes/fine-mix/bucket\"] button";

fn weigh(window: &Window, drained: &str) {
    let steps = [
        ("height", "12"),
        ("volume", "2"),
        ("dry", "1240"),
        ("flooded", "2.44 kg"),
        ("drained", drained),
        ("grains_dry", "100"),
        ("grains_wet", "129"),
    ];
    for (field, typed) in steps {
        window.fill(&format!("input[name={field}]"), typed);
    }
    window.follow(BUTTON);
}

#[test]
fn a_bucket_test_gives_the_mix_its_own_numbers() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    window.go("/mixes/fine-mix/bucket");
    assert!(window.text("#numbers").contains("estimate"), "{}", window.text("#numbers"));
    weigh(&window, "2.5 kg");
    let refused = window.text(".hint.alarm");
    assert!(
        refused.contains("the drained fill weighs 2.50 kg and the flooded fill weighs 2.44 kg"),
        "{refused}"
    );
    assert_eq!(window.value("input[name=dry]"), "1240", "what was typed is lost");
    weigh(&window, "1790");
    let told = window.text("#numbers");
    for number in ["Its own numbers", "620 g a litre", "60 %", "28 %, 12 cm deep", "18 %"] {
        assert!(told.contains(number), "{number} is not in: {told}");
    }
    window.go("/mixes?pot=celadon-oval-46-cm&one=fine-mix&other=open-mix");
    assert!(window.text(".beside .card").contains("bucket test"), "{}", window.text(".beside .card"));
}

#[test]
fn a_pot_with_leaning_sides_is_said_to_be_taken_for_a_box_when_it_is_tipped() {
    if unwanted() {
        return;
    }
    let demo = Served::start(["demo"]);
    let window = Window::open(demo.address(), PHONE);
    let said = |address: &str| {
        window.go(address);
        window.text("main").contains("taken for a box")
    };
    assert!(said("/mixes?pot=brown-rectangle-30-cm&tilt=15"));
    assert!(!said("/mixes?pot=brown-rectangle-30-cm&tilt=0") && !said("/mixes?pot=celadon-oval-46-cm"));
}
