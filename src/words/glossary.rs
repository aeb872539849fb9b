//! The words of the trade as this program uses them, one meaning each, and the other names that
//! weavers have for the same things. Owns the explanations; the program itself never says another
//! name. Pure.
//!
//! Ravel and wraith for the raddle, staves and healds for shafts are read in old printed books
//! (*Home Life in Colonial Days*; Taylor, *Cotton Weaving and Designing*, 1909; Brooks, *Cotton
//! Manufacturing*). The other names are common practice, no source.

/// One word, explained.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Entry {
    /// The word as the program says it.
    pub word: &'static str,
    /// What it means here, in one or two sentences.
    pub means: &'static str,
    /// Other names for the same thing.
    pub others: &'static [&'static str],
}

const fn entry(word: &'static str, means: &'static str, others: &'static [&'static str]) -> Entry {
    Entry {
        word,
        means,
        others,
    }
}

/// Every word that is explained, in the order of the alphabet.
pub const GLOSSARY: &[Entry] = &[
    entry(
        "apron",
        "Cloth or cords from a beam to its rod, so that the warp need not reach the beam itself.",
        &["apron cords", "apron cloth"],
    ),
    entry(
        "back apron rod",
        "The rod at the end of the back apron. The warp rod is tied to it, and the warp beam pulls on both.",
        &["back tie-on bar"],
    ),
    entry(
        "back beam",
        "The fixed beam at the back of the loom, over which the warp runs up to the shafts.",
        &["back rest", "whip roll"],
    ),
    entry(
        "balance",
        "What has been wound or spread of a group against what has been threaded of it, looked at where a batch ends at or after the group's end.",
        &[],
    ),
    entry(
        "batch",
        "The ends that are counted out, threaded and slip-knotted at one go.",
        &["threading group"],
    ),
    entry(
        "beater",
        "The swinging frame that holds the reed and beats the weft in.",
        &["batten", "lay"],
    ),
    entry(
        "bout",
        "The part of a warp that is wound and taken off its frame at one go, where the whole would be too much for the pegs.",
        &["warp chain"],
    ),
    entry(
        "breast beam",
        "The fixed beam at the front of the loom, in front of the weaver.",
        &["front beam"],
    ),
    entry(
        "bundle",
        "The ends that are tied to the front apron rod with one knot: a sleyed group.",
        &[],
    ),
    entry(
        "call",
        "The number of an end in the order of threading, from 1; only ends that go in a heddle are called. Also what the program says for it: the shaft.",
        &[],
    ),
    entry(
        "carry",
        "Ends of the next group that are already threaded, because a batch is not cut at the group's end.",
        &[],
    ),
    entry(
        "choke",
        "A tight tie round the whole warp, one each yard or metre, so that the ends cannot slide past each other.",
        &["choke tie"],
    ),
    entry(
        "count out",
        "To set aside this batch's ends and, on each shaft, the heddles that it will use, taken from the threading side.",
        &["count off"],
    ),
    entry(
        "counting thread",
        "A thread laid across between the groups while winding. Two of its crossings enclose one group.",
        &["counting string", "counting cord", "group tie"],
    ),
    entry(
        "cross",
        "The place where the ends pass over and under by turns, so that each keeps its place in the order.",
        &["lease", "leash"],
    ),
    entry(
        "dent",
        "One opening of the reed. Dents are counted from the side where sleying starts.",
        &["split", "reed space"],
    ),
    entry(
        "draft",
        "The plan of a weave: the threading, the tie-up and the treadling together.",
        &["weaving draft", "pattern draft"],
    ),
    entry(
        "draw-in",
        "How much narrower the cloth gets on the loom than the warp is in the reed, as a share of that width.",
        &["pull-in", "width take-up"],
    ),
    entry(
        "dressing",
        "One warp being put on one loom, from the plan until it is ready to weave. It is kept in one file.",
        &["warping the loom", "setting up"],
    ),
    entry(
        "end",
        "One thread of the warp. Its position is counted over the whole warp from the right, floating selvedges among them.",
        &["warp thread", "warp end"],
    ),
    entry(
        "end loop",
        "The loop at the end of the warp that goes on the warp rod, with all ends in it.",
        &[],
    ),
    entry(
        "fault",
        "A mistake in the work, such as a position skipped or two ends in one heddle.",
        &["mistake", "threading error"],
    ),
    entry(
        "filled heddle",
        "A heddle with an end in it. The n-th filled heddle of a batch belongs to its n-th call.",
        &[],
    ),
    entry(
        "floating selvedge",
        "An end at the edge that is sleyed and tied on but goes in no heddle. It is one of the outermost wound ends, or added and weighted behind.",
        &["float", "floating selvage"],
    ),
    entry(
        "front apron rod",
        "The rod at the end of the front apron, to which the bundles are tied.",
        &["front tie-on bar", "tie-on rod", "tie-on bar"],
    ),
    entry(
        "group",
        "The ends between two crossings of the counting thread: one inch of the warp, or the plan's own unit. A short group lies at the edge that is threaded last.",
        &["raddle group"],
    ),
    entry(
        "guide string",
        "A string of the warp's length that is laid round the pegs first, and shows the path for all ends.",
        &["guide yarn", "guide thread"],
    ),
    entry(
        "handful",
        "Three or four calls that are said together.",
        &[],
    ),
    entry(
        "header",
        "The first picks, in thick yarn, which close the gaps between the bundles and show what is wrong.",
        &["heading"],
    ),
    entry(
        "heddle",
        "A wire or cord with an eye, hung on a shaft, that lifts the end threaded through it. In old mill books a heald can also be the whole shaft.",
        &["heald", "hedle"],
    ),
    entry(
        "hook",
        "A flat or thin hook that draws an end through a heddle or a dent.",
        &["threading hook", "reed hook", "sley hook", "heddle hook"],
    ),
    entry(
        "lease sticks",
        "Two smooth sticks that lie in the cross, one on each side of its waist, and keep the order of the ends.",
        &[
            "cane",
            "lease stick",
            "lease rod",
            "cross stick",
            "leash rod",
            "laze rod",
        ],
    ),
    entry(
        "ledger",
        "What was wound, spread, threaded, sleyed and tied of each group, side by side.",
        &[],
    ),
    entry(
        "left over",
        "Ends or heddles of a count-out that are still there when all calls of the batch are done.",
        &["surplus", "remaining"],
    ),
    entry(
        "look",
        "One thing that you are asked to look at on the loom, chosen because the answer tells most for the time it takes.",
        &["check"],
    ),
    entry(
        "packing",
        "Paper, sticks or slats wound in with the warp, so that each turn lies firm on the one below.",
        &["warp paper", "warp sticks", "beaming paper", "separator"],
    ),
    entry(
        "pawl",
        "The catch that drops into the teeth of the ratchet and keeps the beam from turning back.",
        &["dog", "click"],
    ),
    entry(
        "pick",
        "One passage of the weft through one shed.",
        &["shot", "weft pick"],
    ),
    entry(
        "plan",
        "What is to be dressed: warp, draft, loom, reed, raddle and ways of working, checked as a whole.",
        &["project"],
    ),
    entry(
        "position",
        "The number of an end across the whole warp, from 1 at the right, floating selvedges among them.",
        &[],
    ),
    entry(
        "raddle",
        "A comb of pegs or nails, open or with a cap, that spreads the groups to their width while the warp is beamed.",
        &["ravel", "wraith", "spreader"],
    ),
    entry(
        "ratchet",
        "The toothed wheel on a beam that the pawl holds.",
        &["ratchet wheel"],
    ),
    entry(
        "reed",
        "The comb of thin blades in the beater. It sets the ends at their distance and beats the weft in.",
        &[],
    ),
    entry(
        "repair heddle",
        "A heddle of string that is tied on a shaft afterwards, where one is lacking.",
        &["string heddle"],
    ),
    entry(
        "repeat",
        "The shortest run of the threading that comes again and again.",
        &["pattern repeat"],
    ),
    entry(
        "selvedge",
        "The edge of the cloth along the warp.",
        &["selvage", "list"],
    ),
    entry(
        "sett",
        "How close the ends lie in the reed: ends per inch, or per centimetre.",
        &["ends per inch", "epi", "set"],
    ),
    entry(
        "shaft",
        "A frame that carries heddles and moves as one. Shaft 1 is the front one, unless the plan says otherwise.",
        &["harness", "leaf", "stave", "heddle frame"],
    ),
    entry(
        "shed",
        "The opening between the ends that are up and the ends that are down, through which the shuttle goes.",
        &[],
    ),
    entry(
        "short",
        "Ends or heddles of a count-out that are missing while calls of the batch are still to be done.",
        &["missing"],
    ),
    entry(
        "sley",
        "To take the ends through the dents of the reed.",
        &["reed the warp", "enter the reed"],
    ),
    entry(
        "sley order",
        "How many ends go in each dent, as numbers that repeat; 0 is an empty dent.",
        &["denting", "denting order", "reed order"],
    ),
    entry(
        "sling",
        "A loop of string that carries the rods while the groups are spread.",
        &[],
    ),
    entry(
        "slip knot",
        "A knot that holds by itself and opens with one pull at its tail.",
        &[],
    ),
    entry(
        "space",
        "One opening of the raddle. A group lies in one space, or in several side by side.",
        &["raddle space", "raddle dent"],
    ),
    entry(
        "stage",
        "A part of the job, such as Spread or Thread. There are eight, each a run of steps.",
        &[],
    ),
    entry(
        "step",
        "The smallest part of the job that is done at one go, such as one batch or one turn of the beam.",
        &[],
    ),
    entry(
        "surgeon's knot",
        "A knot whose first half is turned twice, so that it holds while it can still be drawn.",
        &["surgeons knot"],
    ),
    entry(
        "suspect",
        "One explanation of a miscount: where it may have happened, and how.",
        &[],
    ),
    entry(
        "take-up",
        "How much longer the warp is than the cloth woven from it, as a share of the warp, because its ends bend round the weft.",
        &["warp contraction", "crimp"],
    ),
    entry(
        "thread",
        "To take each end through the eye of its heddle.",
        &["enter", "heddle the warp"],
    ),
    entry(
        "threading",
        "The shafts of the ends in their order, written as numbers.",
        &["entering", "drawing-in", "draw"],
    ),
    entry(
        "tie on",
        "To tie the bundles to the front apron rod.",
        &["gate up"],
    ),
    entry(
        "tie-up",
        "Which shafts are tied to which treadle.",
        &["cording", "tie up plan"],
    ),
    entry(
        "treadle",
        "A lever for the foot that moves the shafts tied to it. Treadle 1 is the left one, unless the plan says otherwise.",
        &["pedal", "footboard"],
    ),
    entry(
        "treadling",
        "The order in which the treadles are pressed, pick by pick.",
        &["pegging order"],
    ),
    entry(
        "waist",
        "The point of the cross where the ends pass each other. The lease sticks lie on either side of it.",
        &["waist of the cross"],
    ),
    entry("warp", "All the ends together.", &["chain"]),
    entry(
        "warp beam",
        "The roller at the back of the loom on which the warp is wound.",
        &["yarn beam", "back roller"],
    ),
    entry(
        "warp rod",
        "The rod through the end loops of the warp, tied to the back apron rod.",
        &["warp stick", "end stick", "loop rod"],
    ),
    entry(
        "weft",
        "The thread that is woven across the warp.",
        &["woof", "filling"],
    ),
];

/// The entry for a word or one of its other names, in one or in many, however it is capitalised,
/// spaced or hyphenated.
#[must_use]
pub fn look_up(word: &str) -> Option<&'static Entry> {
    let asked = plain(word);
    find(&asked).or_else(|| find(one_of(&asked)?))
}

/// The entry whose word is spelled most like this one; `None` where none is near.
#[must_use]
pub fn nearest(word: &str) -> Option<&'static Entry> {
    let asked = plain(word);
    let letters = asked.chars().count();
    // A third of the letters may differ; longer than any phrase here is not measured.
    let room = if letters > 40 {
        return None;
    } else {
        (letters / 3).min(2)
    };
    GLOSSARY
        .iter()
        .flat_map(|entry| names(entry).map(move |name| (entry, plain(name))))
        .map(|(entry, name)| (entry, strsim::osa_distance(&asked, &name)))
        .filter(|(_, distance)| *distance <= room)
        .min_by_key(|(_, distance)| *distance)
        .map(|(entry, _)| entry)
}

fn find(asked: &str) -> Option<&'static Entry> {
    let own = GLOSSARY.iter().find(|entry| plain(entry.word) == asked);
    own.or_else(|| {
        GLOSSARY
            .iter()
            .find(|entry| names(entry).any(|name| plain(name) == asked))
    })
}

/// The word and its other names.
fn names(entry: &'static Entry) -> impl Iterator<Item = &'static str> {
    std::iter::once(entry.word).chain(entry.others.iter().copied())
}

/// Small letters, one blank for any run of blanks and hyphens, a straight apostrophe.
fn plain(word: &str) -> String {
    let small = word.to_lowercase().replace('\u{2019}', "'");
    let parts: Vec<&str> = small
        .split(|c: char| c.is_whitespace() || c == '-')
        .collect();
    let kept: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    kept.join(" ")
}

/// "heddles" as "heddle", "crosses" as "cross", "leaves" as "leaf".
fn one_of(many: &str) -> Option<&str> {
    match many {
        "leaves" => Some("leaf"),
        _ => ["sses", "tches", "shes"]
            .iter()
            .find(|ending| many.ends_with(**ending))
            .map_or_else(|| many.strip_suffix('s'), |_| many.strip_suffix("es")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use unicode_width::UnicodeWidthStr;

    /// The words of the table in which the project fixes one meaning each.
    const FIXED: [&str; 38] = [
        "end",
        "position",
        "call",
        "group",
        "batch",
        "handful",
        "count out",
        "left over",
        "short",
        "filled heddle",
        "sley order",
        "warp rod",
        "back apron rod",
        "front apron rod",
        "dent",
        "reed",
        "raddle",
        "space",
        "lease sticks",
        "cross",
        "waist",
        "bundle",
        "shed",
        "tie-up",
        "treadle",
        "sett",
        "take-up",
        "draw-in",
        "floating selvedge",
        "dressing",
        "plan",
        "stage",
        "step",
        "fault",
        "suspect",
        "look",
        "heddle",
        "shaft",
    ];

    #[test]
    fn every_word_with_a_fixed_meaning_is_explained() {
        for word in FIXED {
            assert_eq!(look_up(word).map(|entry| entry.word), Some(word));
        }
    }

    #[test]
    fn a_weaver_s_other_name_leads_to_the_word_used_here() {
        for (other, word) in [
            ("heald", "heddle"),
            ("Healds", "heddle"),
            ("harness", "shaft"),
            ("Harnesses", "shaft"),
            ("leaves", "shaft"),
            ("lease", "cross"),
            ("crosses", "cross"),
            ("cane", "lease sticks"),
            ("canes", "lease sticks"),
            ("ravel", "raddle"),
            ("EPI", "sett"),
            ("tie up", "tie-up"),
            ("  lease   rods ", "lease sticks"),
            ("surgeon\u{2019}s knot", "surgeon's knot"),
            ("picks", "pick"),
            ("selvage", "selvedge"),
        ] {
            assert_eq!(
                look_up(other).map(|entry| entry.word),
                Some(word),
                "{other}"
            );
        }
    }

    #[test]
    fn a_word_that_is_not_there_is_not_guessed() {
        for word in ["", " ", "s", "es", "loomness", "-", "\u{1b}[2J"] {
            assert_eq!(look_up(word), None, "{word:?}");
        }
    }

    #[test]
    fn a_slip_of_the_finger_still_finds_its_word() {
        assert_eq!(nearest("hedlde").map(|entry| entry.word), Some("heddle"));
        assert_eq!(nearest("radle").map(|entry| entry.word), Some("raddle"));
        assert_eq!(nearest("zzzzzzz"), None);
        assert_eq!(nearest(""), None);
        assert_eq!(nearest(&"heddle ".repeat(100_000)), None);
    }

    #[test]
    fn one_name_means_one_thing() {
        let mut all: Vec<String> = GLOSSARY
            .iter()
            .flat_map(|entry| names(entry).map(plain))
            .collect();
        let before = all.len();
        all.sort();
        all.dedup();
        assert_eq!(all.len(), before, "a name stands twice");
    }

    #[test]
    fn the_words_stand_in_the_order_of_the_alphabet() {
        let words: Vec<String> = GLOSSARY.iter().map(|entry| plain(entry.word)).collect();
        assert!(words.is_sorted(), "{words:?}");
    }

    #[test]
    fn an_explanation_is_one_or_two_whole_sentences() {
        for Entry { word, means, .. } in GLOSSARY {
            let sentences = means.matches(". ").count() + 1;
            assert!(
                means.ends_with('.') && (1..=2).contains(&sentences),
                "{word}: {means}"
            );
            assert!(means.width() <= 160, "{word}: {} columns", means.width());
            assert!(!means.chars().any(char::is_control), "{word}");
            assert!(means.starts_with(char::is_uppercase), "{word}");
        }
    }

    #[test]
    fn no_explanation_uses_another_name_for_a_word_used_here() {
        for Entry { word, means, .. } in GLOSSARY {
            for other in [
                "harness",
                "cane",
                "lease rod",
                "leash",
                "warp thread",
                "pedal",
                "epi",
            ] {
                let words = plain(means);
                let found = words
                    .split(|c: char| !c.is_alphanumeric())
                    .any(|part| part == other);
                assert!(!found, "{word} says {other}");
            }
        }
    }
}
