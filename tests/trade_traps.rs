//! Printed figures that are wrong in print (T1..T18 of the list that the figures were gathered with): the
//! right figure comes out here. And Taylor's setts from known yarns, wraps, and the rarer old reeds.
//! TAY: Taylor, Cotton Weaving and Designing, 1909. WOL: Wolfensberger, Theory of Silk Weaving, 1921.
//! BRO: Brooks, Cotton Manufacturing. OST: Osterkamp. DIC: Dictionary of English textile terms.
//!
//! In trade.rs: T1-T5 (old reeds), T8 (a point draw), T9 (3864 ends), T10, T11, T14, T15 (yarn numbers),
//! T12, T13 (widths), T16 (figures cut short), T17, T18 (the reed chart). Here: T6, T7, the other half of T9.
#![allow(clippy::unwrap_used)]

use endsmeet::plan::advice::{diameters, most_ends, setts};
use endsmeet::plan::old_reeds::old_reed;
use endsmeet::plan::yarn::{System, read_yarn};
use endsmeet::plan::{Cloth, ShedKind, read_spec, work_out};
use endsmeet::quantity::{Call, Fraction, Shaft, parse_fraction};

fn f(text: &str) -> Fraction {
    parse_fraction(text).expect("a number")
}

fn close(found: Fraction, printed: f64, within: f64, what: &str) {
    #[allow(clippy::cast_precision_loss)]
    let found = found.numerator() as f64 / found.denominator() as f64;
    let off = (found - printed).abs();
    assert!(off <= within, "{what}: found {found}, printed {printed}");
}

#[test]
fn a_count_from_a_weighed_length_divides_by_840_times_the_grains() {
    // T6, TAY p. 330-331: print has 7000 x yards / (840 x counts); it is 840 x grains. 16 yd of 20s weigh
    // 6 2/3 gr (Y72), 120 yd of 50s weigh 20 gr (Y70).
    for (yards, grains, counts) in [
        (16.0, "20/3", 20.0),
        (120.0, "20", 50.0),
        (120.0, "25", 40.0),
    ] {
        let per_yard = f(grains).over(f(&format!("{yards}"))).unwrap();
        let yarn = format!("{} gr/yd", per_yard.decimal(6));
        let found = read_yarn(&yarn).unwrap().number(System::Cotton).unwrap();
        close(found, counts, 0.001, &yarn);
    }
}

#[test]
fn an_end_of_plain_cloth_crosses_over_once_for_each_pick() {
    // T7, TAY p. 329: print has as many intersections as ends per inch; an end crosses over at every pick,
    // so it is as many as picks per inch, whatever the sett.
    let lists = [vec![Shaft(1)], vec![Shaft(2)]];
    for ends in [20_u32, 60] {
        for picks in [8_u32, 30] {
            let threading: Vec<Shaft> = (0..ends).map(|e| Shaft((e % 2) as u8 + 1)).collect();
            let cloth = Cloth::from_lists(&threading, &lists, ShedKind::Rising, 2, picks).unwrap();
            let up: Vec<bool> = (1..=picks + 1).map(|p| cloth.warp_up(p, Call(1))).collect();
            let crossings = up.windows(2).filter(|two| two[0] != two[1]).count();
            assert_eq!(crossings, picks as usize, "{ends} ends, {picks} picks");
        }
    }
}

/// One of two widths of a satin: white, black and white ends, the edges doubled in heddle and dent.
fn satin(black: u32) -> String {
    format!(
        r#"{{"title": "Satin", "sett": 264, "ends": 6312, "threading": "1 2 3 4 5 6 7 8",
        "edges": {{"ends": 128, "doubled": "heddle"}}, "loom": {{"shafts": 8}},
        "yarns": [{{"name": "black", "size": "1.3 dram"}}, {{"name": "white", "size": "1.3 dram"}}],
        "colours": [{{"yarn": "white", "ends": 104}}, {{"yarn": "black", "ends": {black}}}, {{"yarn": "white", "ends": 104}}]}}"#
    )
}

#[test]
fn the_black_ends_of_a_silk_satin_are_those_of_its_ticket() {
    // T9, WOL p. 84-85 (R54): two widths, 12,368 heddles = 2 (6056 + 24 + 104), 12,208 black and 416 white
    // single ends; the weight was reckoned with 12,224. H13: 1546 heddles on each of 8 shafts.
    let figures = work_out(&read_spec(&satin(12_208 / 2)).unwrap());
    assert_eq!(figures.problems, []);
    let needed = figures.heddles.unwrap().needed;
    assert_eq!(needed, [1546 / 2; 8]);
    assert_eq!(2 * needed.iter().sum::<u32>(), 12_368);
    let other = work_out(&read_spec(&satin(12_224 / 2)).unwrap());
    let said: Vec<String> = other.problems.iter().map(ToString::to_string).collect();
    assert!(
        said.iter()
            .any(|s| s.contains("6320") && s.contains("6312")),
        "{said:?}"
    );
}

#[test]
fn a_diameter_from_that_of_another_count_goes_by_the_root() {
    let ratio = |known: i64, wanted: i64| {
        let of = |count: i64| diameters(Fraction::whole(count * 840)).unwrap();
        of(wanted).over(of(known)).unwrap()
    };
    let from = |known, diameter: i64, wanted| {
        ratio(known, wanted)
            .times(Fraction::whole(diameter))
            .unwrap()
    };
    close(from(16, 110, 36), 165.0, 0.01, "S20 TAY p. 336-337");
    close(from(32, 156, 50), 195.0, 0.01, "S21 TAY p. 337");
    // TAY p. 335, the table: within 1 % of the root, so within 1 % of one another.
    for (known, at, wanted, printed) in [
        (1, 27.5, 4, 55.5),
        (10, 87.5, 40, 174.5),
        (50, 195.0, 200, 390.0),
    ] {
        close(ratio(known, wanted), printed / at, 0.02, "TAY p. 335");
    }
}

#[test]
fn plain_cloth_turned_to_twill_is_set_closer_by_eight_sixths() {
    // S24 TAY p. 339: plain at 103 per inch to 2/2 twill of the same firmness and yarn: 137 1/3.
    let d = f("206");
    assert_eq!(most_ends(d, 2, 2), Some(f("103")));
    assert_eq!(most_ends(d, 4, 2), Some(f("137 1/3")));
}

#[test]
fn setts_by_wraps_are_half_and_two_thirds_of_the_wraps() {
    // S10: 22 wraps in an inch give 11 in plain weave and about 15 in balanced twill; 14 in a centimetre
    // give 7 and 9 1/3 (print rounds up to 10). S9 OST: wraps = 0.7 x D, so yards in a pound = (wraps / 0.63)^2.
    for (wraps, plain, twill) in [
        (22.0_f64, 11.0, 14.67),
        (14.0 * 2.54, 7.0 * 2.54, 9.333 * 2.54),
    ] {
        let yards = (wraps / 0.63).powi(2);
        let yarn = read_yarn(&format!("{yards:.3} yd/lb")).unwrap();
        let weaves = setts(&yarn).unwrap().weaves;
        close(weaves[0].by_wraps, plain, 0.01, "S10 plain");
        close(weaves[1].by_wraps, twill, 0.02, "S10 twill");
        // S9 OST: by wraps, divided by 0.7, is near the most of plain weave (10 wraps: 5 / 0.7 = 7).
        let most = weaves[0].by_wraps.over(f("0.7")).unwrap();
        assert_eq!(most, weaves[0].most, "S9");
    }
}

#[test]
fn beers_of_the_rarer_districts() {
    for (text, dents, source) in [
        (
            "45 blackburn",
            "20",
            "R34 TAY p. 310: beers of 20 dents in 45 in",
        ),
        ("58 preston 6-4", "20", "R35 TAY p. 310: in 58 in"),
        ("44 preston 9-8", "20", "R35: in 44 in"),
        ("39 preston 4-4", "20", "R35: in 39 in"),
        ("34 preston 7-8", "20", "R35: in 34 in"),
        (
            "90 dewsbury",
            "19",
            "R39 DIC: beers of 38 ends in 90 in, 2 per dent",
        ),
        ("40 stockport", "20", "R33 BRO: 485 dents in 24 1/4 in"),
    ] {
        assert_eq!(old_reed(text), Some(f(dents)), "{source}");
    }
    assert_eq!(
        old_reed("40 stockport").unwrap().times(f("24 1/4")),
        Some(f("485")),
        "R33"
    );
}
