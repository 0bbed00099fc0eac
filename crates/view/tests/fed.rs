//! Feed is on record: saved in one tap, undone like any line, and asked about when it comes too soon or within weeks of a root cut
//! (A22), on both halves of the Earth.

mod halves;

use collection::event::WorkKind;
use halves::{Half, of};
use intake::{
    asked::Asked,
    fed::fed,
    record::{DiaryLine, FormError, take_back},
};
use jiff::{
    ToSpan,
    civil::{Date, date},
};
use state::{
    reason::{ByKind, Reason},
    verdict::Answer,
    work::Work,
};
use store::store::Store;
use view::{
    verdicts::{against, fed_today, feed, on},
    whole::Whole,
};

const DAY: Date = date(2026, 6, 8);

const TREES: &str = "name,taxon,confidence,since,worth,note\nMaple,acer-palmatum,sure,,,\nJuniper,juniperus-chinensis,sure,,,\n\
                     Cut elm,ulmus-parvifolia,sure,,,\n";
const MOVES: &str =
    "tree,place,day\nMaple,Bench,2025-03-01\nJuniper,Bench,2025-03-01\nCut elm,Bench,2025-03-01\n";
const WORK: &str = "tree,day,kind,roots,note\nCut elm,2026-05-25,repot,0.4,\n";
const LOOKS: &str = "tree,day,stage,sureness,note\nMaple,2026-05-10,15,sure,\nCut elm,2026-05-10,15,sure,\n";

fn collection(half: Half) -> Store {
    half.store(&[("trees", TREES), ("moves", MOVES), ("work", WORK), ("looks", LOOKS)])
}

fn save(store: &mut Store, keys: &[&str], day: Date, asked: Asked<'_>) -> Result<(), FormError> {
    let keys: Vec<String> = keys.iter().map(|key| (*key).to_string()).collect();
    fed(store, &keys, &day.to_string(), asked, day)
}

fn may(whole: &Whole, key: &str) -> Answer {
    on(whole, of(whole, key), Work::Feed).answer
}

#[test]
fn what_was_fed_is_on_record_and_waits_as_the_trade_does() {
    for half in Half::BOTH {
        let mut store = collection(half);
        let whole = half.on(&store, DAY);
        assert!(!may(&whole, "maple").is_against() && fed_today(&whole).is_empty(), "{half:?}");
        save(&mut store, &["maple", "juniper"], whole.today, Asked::default()).unwrap();
        // The same tap twice is one line.
        save(&mut store, &["maple"], whole.today, Asked::default()).unwrap();
        let whole = half.on(&store, DAY);
        let today: Vec<String> = fed_today(&whole).into_iter().map(|it| it.key).collect();
        assert_eq!(today, ["maple", "juniper"], "{half:?}");
        // By the week in growth, by the month for a juniper; neither is asked for again today.
        let until = |key: &str| match may(&whole, key) {
            Answer::NotNow { until } => (until.unwrap() - whole.today).get_days(),
            other => panic!("{half:?} {key} {other:?}"),
        };
        assert_eq!([until("maple"), until("juniper")], [7, 28], "{half:?}");
        assert!(!feed(&whole).iter().any(|it| it.trees.iter().any(|(key, _)| key == "maple")), "{half:?}");
        // A week on it may be fed again, and the last feed is told.
        let later = half.on(&store, DAY.saturating_add(7.days()));
        let verdict = on(&later, of(&later, "maple"), Work::Feed);
        assert!(!verdict.answer.is_against(), "{half:?} {verdict:?}");
        let day = whole.today;
        assert!(verdict.reasons.contains(&Reason::ByKind(ByKind::LastFed { day })), "{half:?} {verdict:?}");
    }
}

#[test]
fn feed_too_soon_or_on_fresh_roots_is_asked_about_and_the_reason_is_kept() {
    for half in Half::BOTH {
        let mut store = collection(half);
        let whole = half.on(&store, DAY);
        let elm = on(&whole, of(&whole, "cut-elm"), Work::Feed);
        let ban = elm.reasons.iter().find_map(|it| match it {
            Reason::NoFeed { day, until } => Some((*until - *day).get_days()),
            _ => None,
        });
        assert!(elm.answer.is_against() && (28..=42).contains(&ban.unwrap()), "{half:?} {elm:?}");
        let why = against(&whole, of(&whole, "cut-elm"), Work::Feed).unwrap();
        let asked = |despite| Asked { against: Some(&why), despite };
        assert!(matches!(
            save(&mut store, &["cut-elm"], whole.today, asked("")),
            Err(FormError::Asked { .. })
        ));
        assert!(fed_today(&half.on(&store, DAY)).is_empty(), "{half:?}: nothing is saved unasked");
        save(&mut store, &["cut-elm"], whole.today, asked("seaweed, no salts")).unwrap();
        let works = store.reader().unwrap().works().unwrap();
        let (id, line) = works.iter().find(|(_, it)| it.kind == WorkKind::Fed).unwrap();
        assert!(line.note.ends_with("though asked: seaweed, no salts"), "{half:?} {}", line.note);
        // Undone like any line of the diary.
        take_back(&mut store, "cut-elm", DiaryLine::Work(*id)).unwrap();
        assert!(fed_today(&half.on(&store, DAY)).is_empty(), "{half:?}");
    }
}

/// Fed or not, a bare tree and one in its winter rest is not asked for.
#[test]
fn nothing_is_fed_in_winter() {
    for half in Half::BOTH {
        let whole = half.on(&collection(half), date(2026, 1, 15));
        let listed = feed(&whole);
        assert!(
            !listed.iter().any(|it| it.trees.iter().any(|(key, _)| key == "maple")),
            "{half:?} {listed:?}"
        );
    }
}
