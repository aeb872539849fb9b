//! Published figures of the trade against what is computed here; the source stands beside each check.
//! TAY: Taylor, Cotton Weaving and Designing, 1909. WOL: Wolfensberger, Theory of Silk Weaving, 1921.
//! BRO: Brooks, Cotton Manufacturing. ASTM: D2260 table 1. HOW: a yarn shop's printed reed chart.
//! OST: Osterkamp. IWV: Interweave / Handwoven. FAE: handout on Ashenhurst, 1999. SUN: Gunilla's page.

use endsmeet::plan::advice::{diameters, most_ends, setts, sley_advice};
use endsmeet::plan::beam::{Lengthwise, before_loss, warp_length};
use endsmeet::plan::old_reeds::old_reed;
use endsmeet::plan::order::{best_order, even_order, exact_order, near_orders, sett_of_order};
use endsmeet::plan::reeds::dents_per_unit;
use endsmeet::plan::spec::{Per, ReedSpec};
use endsmeet::plan::threading::read_threading;
use endsmeet::plan::yarn::{System, read_yarn};
use endsmeet::plan::{Figures, Plan, Units, read_spec, ties, work_out};
use endsmeet::quantity::{Fraction, parse_fraction};

fn f(text: &str) -> Fraction {
    parse_fraction(text).expect("a number")
}

fn close(found: Fraction, printed: f64, within: f64, what: &str) {
    #[allow(clippy::cast_precision_loss)]
    let found = found.numerator() as f64 / found.denominator() as f64;
    let off = (found - printed).abs();
    assert!(off <= within, "{what}: found {found}, printed {printed}");
}

fn number(yarn: &str, system: System) -> Fraction {
    let read = read_yarn(yarn).unwrap_or_else(|e| panic!("{yarn}: {e}"));
    read.number(system).expect("a number")
}

fn worked(text: &str) -> Figures {
    work_out(&read_spec(text).unwrap_or_else(|p| panic!("{p:?}")))
}

fn plan(text: &str) -> Plan {
    let figures = worked(text);
    figures
        .plan()
        .unwrap_or_else(|| panic!("{:?}", figures.problems))
}

// 1. Yarn numbers

#[test]
fn one_of_each_system_is_its_constant_of_tex() {
    for (yarn, tex, within, source) in [
        (
            "1 cotton",
            590.541,
            0.0005,
            "Y1 ASTM 590.54; Taylor p. 307: 840 yd",
        ),
        ("1 nm", 1000.0, 0.0, "Y2 ASTM"),
        ("1 worsted", 885.812, 0.0005, "Y3 ASTM 0.885812 x Nm"),
        ("1 linen", 1653.52, 0.005, "Y4 ASTM 1.65352 x Nm"),
        ("1 run", 310.034, 0.0005, "Y5 ASTM 0.310034 x Nm"),
        ("1 cut", 1653.52, 0.005, "Y6 ASTM, one column with lea"),
        ("1 yorkshire", 1937.71, 0.005, "Y7 1536 yd in 6 lb"),
        ("9 denier", 1.0, 0.0, "Y8 ASTM 9 x tex"),
        ("1 grain", 0.590541, 5e-7, "Y9 ASTM"),
        (
            "1 gr/yd",
            70.865,
            0.0005,
            "Y10 7000 gr in a lb, Taylor p. 330",
        ),
        ("1 jute", 34.448, 0.0005, "Y11 lb in 14,400 yd"),
        ("1 dram", 1.9377, 0.00005, "Y12 WOL p. 71"),
        ("1 dewsbury", 31003.4, 0.05, "Y13 yards per ounce"),
        ("1 french", 500.0, 0.0, "Y25 BRO: 1000 m in 500 g"),
    ] {
        close(number(yarn, System::Tex), tex, within, source);
    }
    close(
        number("1 nm", System::YardsPerPound),
        496.055,
        0.0005,
        "Y2 ASTM 496.055 yd/lb",
    );
    close(
        number("1 dram", System::YardsPerPound),
        256_000.0,
        0.0,
        "Y12 WOL p. 71",
    );
    close(
        number("1 dram", System::Denier),
        17.44,
        0.005,
        "Y12 exact; WOL p. 69 prints 17.3",
    );
}

#[test]
fn printed_ratios_between_systems_hold() {
    for (yarn, system, printed, within, source) in [
        (
            "10 cotton",
            System::Worsted,
            15.0,
            1e-9,
            "Y20 ASTM example 1",
        ),
        ("30 tex", System::Cotton, 19.7, 0.05, "Y21 ASTM example 2"),
        ("1 cotton", System::Run, 0.525, 1e-9, "Y22 ASTM"),
        ("1 worsted", System::Run, 0.35, 1e-9, "Y22 ASTM"),
        (
            "1 linen",
            System::Run,
            0.1875,
            1e-9,
            "Y22 ASTM; T10: lea = run / 0.1875",
        ),
        (
            "1 run",
            System::Linen,
            5.333,
            0.0005,
            "T10: not 0.1875 x run",
        ),
        ("1 cotton", System::Linen, 2.8, 1e-9, "Y23 ASTM"),
        ("1 worsted", System::Linen, 1.86667, 0.00001, "Y23 ASTM"),
        ("20 cotton", System::Worsted, 30.0, 1e-9, "Y24 BRO"),
        ("20 cotton", System::Linen, 56.0, 1e-9, "Y24 BRO"),
        ("20 cotton", System::SpunSilk, 20.0, 1e-9, "Y24 BRO"),
        ("20 cotton", System::French, 16.93, 0.005, "Y25 BRO"),
        ("40 nm", System::Cotton, 23.62, 0.005, "Y26"),
        ("80 nm", System::Worsted, 70.86, 0.01, "Y26"),
        ("2/48 nm", System::Metric, 24.0, 0.0, "Y26"),
        ("2/48 nm", System::Cotton, 14.17, 0.005, "Y26"),
        ("150 den", System::Cotton, 35.43, 0.005, "Y26"),
        (
            "1 denier",
            System::Cotton,
            5314.87,
            0.005,
            "Y8 ASTM: Ne x den = 5315",
        ),
        (
            "20 grain",
            System::Cotton,
            50.0,
            1e-9,
            "Y70 Taylor p. 329: 1000 / gr",
        ),
        ("25 grain", System::Cotton, 40.0, 1e-9, "Y70 Taylor p. 330"),
    ] {
        close(number(yarn, system), printed, within, source);
    }
}

#[test]
fn coarse_tex_and_yards_per_pound_go_together() {
    // Y28, an encyclopaedia's table; the two rounder pairs carry their exact figure.
    for (tex, yards) in [
        (735, 675.0),
        (1100, 450.0),
        (1200, 413.0),
        (2200, 225.0),
        (2400, 207.0),
        (4400, 113.0),
        (550, 901.9),
        (2000, 248.0),
    ] {
        close(
            number(&format!("{tex} tex"), System::YardsPerPound),
            yards,
            1.0,
            "Y28",
        );
    }
}

#[test]
fn plied_yarns_have_the_yards_that_the_trade_prints() {
    for (yarn, yards, source) in [
        (
            "8/2 cotton",
            3360.0,
            "Y40 FAE; T11: trade counts take no ply loss",
        ),
        ("10/2 cotton", 4200.0, "Y41"),
        ("3/2 cotton", 1260.0, "Y42"),
        ("5/2 cotton", 2100.0, "Y43 OST; T11: not 2280"),
        ("20/2 cotton", 8400.0, "Y44"),
        ("5/3 cotton", 1400.0, "Y45 a guild's newsletter"),
        ("50/3 cotton", 14_000.0, "Y46"),
        ("30 cotton", 25_200.0, "Y47 Taylor p. 307"),
        ("40 cotton", 33_600.0, "Y48 Taylor p. 312"),
        ("20 cotton", 16_800.0, "Y48 Taylor p. 331"),
        ("44 cotton", 36_960.0, "Y48 BRO: 11 hanks in 1/4 lb"),
        ("120/2 cotton", 50_400.0, "Y49 WOL p. 81: 60 hanks"),
        ("100/2 cotton", 42_000.0, "Y50 WOL p. 99: 50 hanks"),
        ("16/2 cotton", 6720.0, "Y51 by formula"),
        ("2/8 worsted", 2240.0, "Y52"),
        ("8/2 worsted", 2240.0, "2/8 = 8/2, Laura Fry"),
        ("2/10 worsted", 2800.0, "Y52"),
        ("2/20 worsted", 5600.0, "Y52 PET"),
        ("2/12 worsted", 3360.0, "Y53 by formula"),
        ("4/1 linen", 1200.0, "Y54"),
        ("20/2 linen", 3000.0, "Y54 PET"),
        ("16/2 linen", 2400.0, "Y55 by formula"),
        ("6 cut", 1800.0, "Y6 a guild's newsletter"),
    ] {
        close(number(yarn, System::YardsPerPound), yards, 1e-6, source);
    }
    close(
        number("8/2 cotton", System::Tex),
        147.64,
        0.005,
        "Y40; T14: 590.54, not 583.1",
    );
    close(
        number("20/2 nm", System::YardsPerPound),
        4961.0,
        0.5,
        "Y56: silk sold on Nm",
    );
    close(
        number("60/2 nm", System::MetresPerKilogram),
        30_000.0,
        1e-6,
        "Y57",
    );
}

#[test]
fn spun_silk_is_numbered_by_the_finished_yarn() {
    close(
        number("40/2 spun silk", System::YardsPerPound),
        33_600.0,
        1e-6,
        "Taylor p. 308",
    );
    close(
        number("30/2 spun silk", System::Cotton),
        30.0,
        1e-9,
        "BRO: 30s/2 silk wraps 30",
    );
    close(
        number("2/30 cotton", System::Cotton),
        15.0,
        1e-9,
        "BRO: 2/30s cotton wraps 15",
    );
    let said = read_yarn("20/2 silk").unwrap_err().to_string();
    assert!(
        said.starts_with("silk is numbered in two ways; write 'spun silk'"),
        "{said}"
    );
}

#[test]
fn strands_of_two_sizes_twisted_together() {
    close(
        number("40 + 60 cotton", System::Cotton),
        24.0,
        1e-9,
        "Y60 Taylor p. 308",
    );
    close(
        number("4 dram", System::Dewsbury),
        4000.0,
        1e-6,
        "Y63 Taylor p. 308: yards per ounce",
    );
    close(
        number("256 yorkshire", System::YardsPerPound),
        65_536.0,
        1e-6,
        "T15: 256 yd, not 1600",
    );
    close(
        number("1 jute", System::YardsPerPound),
        14_400.0,
        1e-6,
        "T15: lb in 14,400 yd",
    );
    // T15: 1 denier = 0.05 g in 450 m.
    close(
        number("1 denier", System::MetresPerKilogram),
        9_000_000.0,
        1e-6,
        "T15",
    );
}

#[test]
fn weights_of_printed_warps() {
    let pounds = |ends: i64, yards: i64, yarn: &str| {
        let length = Fraction::whole(ends * yards);
        length
            .over(number(yarn, System::YardsPerPound))
            .expect("a weight")
    };
    close(
        pounds(2100, 95, "30 cotton"),
        7.0 + 14.667 / 16.0,
        0.001,
        "W1 Taylor p. 311-313",
    );
    close(
        pounds(2280, 38, "30 cotton"),
        3.0 + 7.0 / 16.0,
        0.002,
        "W3 BRO",
    );
    close(pounds(2260, 38, "30 cotton"), 3.407, 0.002, "W5 BRO");
    close(pounds(528, 4, "8/2 cotton"), 0.629, 0.0005, "W10");
    let with_waste =
        |ends, yards, yarn: &str| pounds(ends, yards, yarn).times(f("1.04")).expect("fits");
    close(
        with_waste(4032, 110, "1.47 dram"),
        2.65,
        0.005,
        "W6 WOL p. 76",
    );
    close(
        with_waste(3864, 54, "1.3 dram"),
        1.10,
        0.005,
        "W7 WOL p. 80; T9: 3864, not 4264",
    );
    close(
        with_waste(4784, 64, "1.48 dram"),
        1.84,
        0.005,
        "W8 WOL p. 88",
    );
    close(
        with_waste(504, 110, "100/2 cotton"),
        1.3728,
        0.0001,
        "W9 WOL p. 99",
    );
    let grains = Fraction::whole(16 * 7000).over(number("20 cotton", System::YardsPerPound));
    close(
        grains.expect("fits"),
        6.667,
        0.0005,
        "Y72 exact; T16: 6.6 is cut short",
    );
    let hanks = Fraction::new(2000 * 84, 840).expect("fits");
    assert_eq!(hanks, f("200"), "Y75 Taylor p. 332");
    let count = Fraction::new(2000 * 500, 840 * 60).expect("fits");
    close(count, 19.84, 0.005, "Y73 Taylor p. 332");
    let long =
        number("40 cotton", System::YardsPerPound).times(Fraction::new(50, 2200).expect("fits"));
    close(long.expect("fits"), 763.6, 0.05, "Y74 Taylor p. 332");
}

// 2. Sett

#[test]
fn ashenhurst_as_restated() {
    let d = diameters(f("3360")).unwrap();
    close(d, 52.2, 0.05, "S6 FAE prints 52");
    close(most_ends(d, 2, 2).unwrap(), 26.0, 0.1, "S6 plain");
    close(
        most_ends(d, 4, 2).unwrap(),
        34.78,
        0.02,
        "S6, T16: 34 is cut short",
    );
    close(
        diameters(f("26880")).unwrap(),
        147.6,
        0.05,
        "S3 Taylor p. 334: 1/148 in",
    );
    close(
        most_ends(f("135"), 3, 2).unwrap(),
        81.0,
        1e-9,
        "S22 Taylor p. 338",
    );
    close(
        most_ends(f("183"), 9, 4).unwrap(),
        126.69,
        0.005,
        "S23, T16: 126 is cut short",
    );
}

#[test]
fn printed_working_setts_lie_between_two_thirds_and_six_sevenths_of_the_most() {
    for (yarn, weave, epi, source) in [
        ("8/2 cotton", 0, 20.0, "S40 IWV"),
        ("8/2 cotton", 1, 24.0, "S40 IWV"),
        ("10/2 cotton", 0, 24.0, "S41 IWV"),
        ("5/2 cotton", 0, 16.0, "S42 IWV"),
    ] {
        let most = setts(&read_yarn(yarn).unwrap()).unwrap().weaves[weave].most;
        let share = epi / most.rounded();
        assert!((0.65..=0.85).contains(&share), "{source}: {share}");
    }
}

// 3. Reed

/// HOW, the printed chart: order, 8 dent, 12 dent. Where print is rounded, SGA gives its rule: to 0.5.
const CHART: [(&[u32], f64, f64); 19] = [
    (&[0, 0, 1], 3.0, 4.0),
    (&[0, 1], 4.0, 6.0),
    (&[0, 1, 1], 5.0, 8.0),
    (&[0, 1, 1, 1], 6.0, 9.0),
    (&[1], 8.0, 12.0),
    (&[1, 1, 1, 2], 10.0, 15.0),
    (&[1, 1, 2], 11.0, 16.0),
    (&[1, 2], 12.0, 18.0),
    (&[1, 2, 2], 13.0, 20.0),
    (&[1, 2, 2, 2], 14.0, 21.0),
    (&[2], 16.0, 24.0),
    (&[2, 2, 2, 3], 18.0, 27.0),
    (&[2, 2, 3], 19.0, 28.0),
    (&[2, 3], 20.0, 30.0),
    (&[2, 3, 3], 21.5, 32.0),
    (&[2, 3, 3, 3], 22.0, 33.0),
    (&[3], 24.0, 36.0),
    (&[3, 4], 28.0, 42.0),
    (&[4], 32.0, 48.0),
];

#[test]
fn the_printed_reed_chart_and_back() {
    for (order, in_eight, in_twelve) in CHART {
        for (reed, printed) in [(8, in_eight), (12, in_twelve)] {
            let reed = Fraction::whole(reed);
            let sett = sett_of_order(order, reed).unwrap();
            close(sett, printed, 0.5, "HOW, rounded to the nearest 0.5 (SGA)");
            // T18: ends by dents, not dents by ends: the exact sett gives the printed order back.
            let back = exact_order(sett, reed).unwrap();
            assert!(
                same_turned(&back.dents, order),
                "{:?} for {order:?}",
                back.dents
            );
            assert_eq!((back.sett, back.exact), (sett, true));
        }
    }
}

/// R11: 2-1-1 and 1-1-2 are one repeat, started elsewhere.
fn same_turned(a: &[u32], b: &[u32]) -> bool {
    a.len() == b.len() && (0..a.len()).any(|k| (0..a.len()).all(|i| a[(i + k) % a.len()] == b[i]))
}

#[test]
fn the_eight_cells_of_the_chart_that_are_off_come_out_exact_here() {
    // T17: printed values off by more than 0.5; exact arithmetic holds.
    for (order, reed, exact) in [
        (&[2, 2, 3][..], 10, "70/3"),
        (&[2, 2, 3], 16, "112/3"),
        (&[2, 3, 3], 20, "160/3"),
        (&[3, 3, 3, 4], 15, "48.75"),
        (&[3, 3, 4], 10, "100/3"),
        (&[3, 3, 4], 16, "160/3"),
        (&[3, 4, 4], 8, "88/3"),
        (&[3, 4, 4], 20, "220/3"),
    ] {
        assert_eq!(
            sett_of_order(order, Fraction::whole(reed)),
            Some(f(exact)),
            "{order:?} in {reed}"
        );
    }
}

#[test]
fn printed_orders_of_single_setts() {
    for (sett, reed, order, source) in [
        ("10", "8", &[1, 1, 1, 2][..], "R1 OST; SGA"),
        ("10", "6", &[1, 2, 2], "R1 SGA"),
        ("16", "12", &[2, 1, 1], "R3 IWV"),
        ("20", "8", &[3, 2], "R5 IWV"),
        ("32", "12", &[2, 3, 3], "R6 IWV, its own erratum"),
        ("30", "10", &[3], "R8"),
        (
            "18",
            "12",
            &[1, 2],
            "a 12-dent reed sleyed 1-2 gives 18: HOW",
        ),
        ("240", "80", &[3], "R55 WOL p. 70"),
        ("240", "60", &[4], "R55 WOL p. 70"),
        ("320", "64", &[5], "R55 WOL p. 70"),
    ] {
        let found = exact_order(f(sett), f(reed)).unwrap();
        assert!(
            same_turned(&found.dents, order),
            "{source}: {:?}",
            found.dents
        );
    }
}

#[test]
fn twelve_in_a_ten_dent_reed_has_only_a_longer_exact_order() {
    // R2 OST: no exact short order; 1-1-1-2 gives 12 1/2, "close enough". Of 5 dents 1-1-1-1-2 is exact.
    assert_eq!(
        exact_order(f("12"), f("10")).unwrap().dents,
        [1, 1, 1, 1, 2]
    );
    assert_eq!(sett_of_order(&[1, 1, 1, 2], f("10")), Some(f("12 1/2")));
    for (sett, reed) in [("0", "10"), ("12", "0"), ("-1", "10"), ("12", "10001")] {
        assert!(
            sley_advice(f(sett), f(reed), Per::In).is_err(),
            "{sett} {reed}"
        );
    }
    assert!(sley_advice(f("10000"), f("10000"), Per::In).is_ok());
    let advice = sley_advice(f("12"), f("10"), Per::In).unwrap();
    assert!(
        advice
            .near
            .iter()
            .any(|o| o.dents == [1, 1, 1, 2] && o.sett == f("12 1/2"))
    );
}

#[test]
fn four_next_to_one_never_stands_in_a_computed_order() {
    // R9 IWV: the order as even as possible; 4 next to 1 will show as stripes.
    for ends in 1..=64 {
        for dents in 1..=8 {
            let order = even_order(ends, dents);
            let (least, most) = (order.iter().min().unwrap(), order.iter().max().unwrap());
            assert!(most - least <= 1, "{order:?}");
        }
    }
}

#[test]
fn metric_reeds_per_inch() {
    // R20 IWV, SUN: N per 10 cm is N x 0.254 per inch; R21 IWV's exact row.
    for (label, exact) in [
        (20, "5.08"),
        (25, "6.35"),
        (30, "7.62"),
        (40, "10.16"),
        (45, "11.43"),
        (50, "12.70"),
        (60, "15.24"),
    ] {
        let reed = ReedSpec {
            dents: Fraction::whole(label),
            per: Some(Per::TenCm),
            length: None,
            off_centre: None,
        };
        assert_eq!(
            dents_per_unit(&reed, Units::In),
            Some(f(exact)),
            "{label}/10"
        );
        let printed = [(20, 5), (25, 6), (30, 8), (40, 10), (50, 12), (60, 15)];
        if let Some((_, near)) = printed.iter().find(|(n, _)| *n == label) {
            close(
                f(exact),
                f64::from(*near),
                0.75,
                "R21: the trade's nearness table",
            );
        }
    }
    // R22 ergastini.com, N/4 per inch: a rounder rule, within 2 % of the exact one.
    for label in [20, 30, 40, 50, 60, 70, 80, 90, 100] {
        close(
            f("0.254").times(Fraction::whole(label)).unwrap(),
            f64::from(i32::try_from(label).unwrap()) / 4.0,
            0.41,
            "R22",
        );
    }
}

#[test]
fn old_reed_numbers_in_dents_per_inch() {
    for (text, dents, source) in [
        ("60 stockport", "30", "R30 Taylor p. 310"),
        ("72 Stockport", "36", "R30 BRO"),
        ("40 radcliffe", "40", "R31: 40 Radcliffe = 80 Stockport"),
        ("80 stockport", "40", "R31"),
        ("16s huddersfield", "16", "R31: 16s 3s are 48 ends"),
        ("72 bradford", "40", "R32, T5: 3 x 40 = 120 ends"),
        (
            "50 bradford",
            "27 7/9",
            "R32 Taylor p. 311: 55 20/36 ends at 2 per dent",
        ),
        (
            "24 1/4 bolton",
            "20",
            "R33 BRO: Stockport 40 = Bolton 24 1/4; T3: 24 1/4 in, not 24 1/2",
        ),
        ("2000 scotch", "2000/37", "R36 Taylor p. 310"),
        ("16 porter", "320/37", "R37: 8.65 dents"),
        (
            "12 leeds",
            "25 1/3",
            "R38, T4: 50.67 ends at 2 per dent, not 5.06",
        ),
        ("10s irish", "25", "R40"),
        ("1200 irish", "30", "R40: 60 ends at 2 per dent"),
        ("1200 macclesfield", "33 1/3", "R41: 133 ends at 4 per dent"),
    ] {
        assert_eq!(old_reed(text), Some(f(dents)), "{source}");
    }
    // T1, T2: Bolton 36s over 39 in is 36 x 39 x 1.6495 = 2316 ends at 2 per dent, not 2238.
    let bolton = old_reed("36 bolton").unwrap();
    close(bolton.times(f("78")).unwrap(), 2316.0, 0.5, "T1");
    close(
        old_reed("1 bolton").unwrap(),
        0.82474,
        0.000_005,
        "T2: 20 / 24.25, not 0.8249",
    );
    // R36 BRO: 1100 reed over 38 in holds 1130 splits, 2260 ends.
    close(
        old_reed("1100 scotch").unwrap().times(f("38")).unwrap(),
        1130.0,
        0.5,
        "R36",
    );
    assert_eq!(old_reed("60"), None);
    assert_eq!(old_reed("stockport"), None);
    let text = r#"{"title": "t", "sett": 80, "ends": 80, "threading": "1 2", "reeds": [{"dents": "72 bradford", "length": 40}]}"#;
    assert_eq!(
        plan(text).sley.order,
        [2],
        "an old number may stand in a plan"
    );
}

// 3d, 4. Dents, ends, heddles

#[test]
fn a_silk_disposition_with_doubled_edges() {
    // R50 WOL p. 76: taffeta 18 3/4 in, 70 dents x 3; 9 dents x 3 double, 1308 x 3, 9 x 3 double: 1326
    // dents, 3978 heddles on 6 shafts, 4032 single ends. H9: 663 heddles each.
    let plan = plan(
        r#"{"title": "Taffeta", "sett": 210, "ends": 4032, "threading": "1 2 3 4 5 6",
        "edges": {"ends": 54, "doubled": "both"}, "sley_order": [3], "batch": "repeat",
        "loom": {"shafts": 6, "width": 24}, "reeds": [{"dents": 70, "length": 24}]}"#,
    );
    assert_eq!(plan.sley.heddled_dents, 1326);
    assert_eq!(plan.heddles.needed, [663; 6]);
    assert_eq!(plan.doubled.len(), 54);
    assert_eq!(plan.heddled_ends(), 4032);
    close(
        plan.width,
        18.94,
        0.01,
        "1326 dents at 70 per inch; R50: 1313 fill 18 3/4 in",
    );
}

#[test]
fn widths_and_ends_in_a_hand_weavers_range() {
    for (width, sett, ends, source) in [
        ("22", "24", 528, "R60"),
        ("48", "48", 2304, "R62"),
        ("20", "24", 480, "R63 IWV"),
        ("20", "16", 320, "R63 IWV"),
        ("8", "18", 144, "8 in at 18 per inch"),
        ("21", "6", 126, "T12: 126, not 72"),
        ("19.5", "20", 390, "T13: 20 x 19.5"),
        ("30", "70", 2100, "W1 Taylor p. 311"),
        ("38", "60", 2280, "W3 BRO"),
    ] {
        let text = format!(
            r#"{{"title": "t", "sett": "{sett}", "width": "{width}", "threading": "1 2 3 4"}}"#
        );
        assert_eq!(worked(&text).ends, Some(ends), "{source}");
    }
    // R64 SUN: 82 cm in a 30/10 reed, 1 per dent: 246 ends.
    let text = r#"{"title": "mat", "units": "cm", "sett": 3, "width": 82, "threading": "1 2",
        "reeds": [{"dents": 30, "per": "10cm", "length": 100}]}"#;
    let mat = plan(text);
    assert_eq!((mat.ends, mat.sley.heddled_dents), (246, 246));
    // R67: 12 in at 8 per inch are 12 groups of 8.
    let text = r#"{"title": "t", "sett": 8, "width": 12, "threading": "1 2"}"#;
    let groups = worked(text).groups.unwrap();
    assert!(groups.len() == 12 && groups.iter().all(|g| g.ends == 8));
}

#[test]
fn a_reed_is_centred_on_its_middle() {
    // The middle of a reed of 18 1/2 in is at 9 1/4; a warp of 8 in starts 4 in from the middle
    // (common practice, no source).
    let plan = plan(
        r#"{"title": "t", "sett": 18, "ends": 144, "threading": "1 2 3 4", "loom": {"width": "18 1/2"},
        "reeds": [{"dents": 12, "length": "18 1/2"}]}"#,
    );
    assert_eq!(plan.sley.order, [1, 2]);
    assert_eq!(plan.sley.heddled_dents, 96);
    assert_eq!(plan.sley.from_middle, f("4"));
    assert_eq!(plan.sley.from_reed_edge, f("5 1/4"));
    assert_eq!(
        plan.heddles.needed, [36; 4],
        "144 ends in an even draw need 36 on each of four"
    );
    assert_eq!(
        plan.ties, 3,
        "such a rod is tied 3 times (common practice, no source)"
    );
}

#[test]
fn ties_are_odd_and_grow_by_a_pair_for_every_eight_inches() {
    // Common practice, no source (P24: nothing in print).
    for (width, wanted) in [
        ("1", 3),
        ("8", 3),
        ("8 1/8", 5),
        ("16", 5),
        ("16.01", 7),
        ("24", 7),
        ("40", 11),
    ] {
        assert_eq!(ties(f(width), Units::In), Some(wanted), "{width} in");
    }
    assert_eq!(
        ties(f("20.32"), Units::Cm),
        Some(3),
        "8 in are 20.32 cm exactly"
    );
    assert_eq!(ties(f("20.33"), Units::Cm), Some(5));
}

/// Heddles on each shaft that a threading needs once through.
fn once(threading: &str) -> Vec<usize> {
    let numbers = read_threading(threading, 64).expect("a threading").numbers;
    let most = numbers.iter().max().copied().unwrap_or(0);
    (1..=most)
        .map(|s| numbers.iter().filter(|&&n| n == s).count())
        .collect()
}

#[test]
fn heddles_of_printed_draws() {
    assert_eq!(
        once("1 2 3 4 5 6 7 8 7 6 5 4 3 2"),
        [1, 2, 2, 2, 2, 2, 2, 1],
        "H1 Taylor p. 230; T8: 8 shafts, 14 ends"
    );
    assert_eq!(once("1 2 3 4 5 4 3 2"), [1, 2, 2, 2, 1], "H4 BRO");
    assert_eq!(
        once("(1 2 3 4) x2 (5 6)"),
        [2, 2, 2, 2, 1, 1],
        "H18 WOL p. 13"
    );
    assert_eq!(once("1 3 2 4"), [1; 4], "H16 BRO");
    assert_eq!(once("1 3 5 7 2 4 6 8"), [1; 8], "H17 WOL p. 9");
    assert_eq!(
        once("(1 2 3 4 5) x4 (6 7) x8"),
        [4, 4, 4, 4, 4, 8, 8],
        "H15 Taylor p. 227"
    );
    for n in [4_u32, 8, 12] {
        // H3 WOL p. 11: a point draft on n shafts has 2n - 2 ends.
        let up = (1..=n)
            .chain((2..n).rev())
            .map(|s| s.to_string())
            .collect::<Vec<_>>()
            .join(" ");
        let draft = read_threading(&up, 64).unwrap();
        assert_eq!(draft.numbers.len(), 2 * n as usize - 2);
    }
}

#[test]
fn heddles_of_printed_warps() {
    for (ends, shafts, each, source) in [
        (400, 8, 50, "H20 IWV"),
        (3832, 4, 958, "H10 WOL p. 80"),
        (12_368, 8, 1546, "H13 WOL p. 85"),
        (144, 4, 36, "an even draw on four"),
    ] {
        let straight = (1..=shafts)
            .map(|s: u32| s.to_string())
            .collect::<Vec<_>>()
            .join(" ");
        let text = format!(
            r#"{{"title": "t", "sett": 100, "ends": {ends}, "threading": "{straight}", "loom": {{"shafts": {shafts}}}}}"#
        );
        let needed = worked(&text).heddles.unwrap().needed;
        assert!(needed.iter().all(|&n| n == each), "{source}: {needed:?}");
    }
    // H11 WOL p. 88: 4688 on 6, two shafts of 782 and four of 781.
    let text = r#"{"title": "t", "sett": 240, "ends": 4688, "threading": "1 2 3 4 5 6", "loom": {"shafts": 6}}"#;
    assert_eq!(
        worked(text).heddles.unwrap().needed,
        [782, 782, 781, 781, 781, 781]
    );
    // H20: with 200 hung on each of 8 shafts, 150 of each are spare.
    let text = r#"{"title": "t", "sett": 20, "ends": 400, "threading": "1 2 3 4 5 6 7 8",
        "loom": {"shafts": 8, "heddles": [200, 200, 200, 200, 200, 200, 200, 200]}}"#;
    assert_eq!(worked(text).heddles.unwrap().spare(), [150; 8]);
}

#[test]
fn counted_invariants_hold() {
    // P22: heddles = ends - floating ends; R50: doubled ends share one heddle.
    for (extra, heddles) in [
        ("", 100),
        (r#","floating_selvedges": "from-warp""#, 98),
        (r#","edges": {"ends": 4, "doubled": "heddle"}"#, 96),
        (r#","edges": {"ends": 4, "doubled": "dent"}"#, 100),
    ] {
        let text =
            format!(r#"{{"title": "t", "sett": 10, "ends": 100, "threading": "1 2"{extra}}}"#);
        let needed: u32 = worked(&text).heddles.unwrap().needed.iter().sum();
        assert_eq!(needed, heddles, "{extra}");
    }
}

// 5. Warp length

#[test]
fn shares_divide_and_lengths_add_up() {
    assert_eq!(
        before_loss(f("10"), f("20%")),
        Some(f("12 1/2")),
        "W30 CNC: not 12"
    );
    assert_eq!(
        before_loss(f("90"), f("5/95")),
        Some(f("95")),
        "W33 Taylor p. 311: 95 for 90"
    );
    // W12 SUN: 4 m, fringes 4 x 10 cm, waste 60 cm; its 15 % is added, so taken off here: 5.0 m.
    let of = Lengthwise {
        finished: f("200"),
        pieces: 2,
        shrinkage: Fraction::ZERO,
        take_up: Fraction::ZERO,
        fringe: f("10"),
        waste: f("60"),
    };
    assert_eq!(warp_length(&of), Some(f("500")));
    // each of three pieces has its two fringes: 600 + 6 x 10 + 60
    let three = Lengthwise { pieces: 3, ..of };
    assert_eq!(warp_length(&three), Some(f("720")));
    // W16: 56 ends x 90 in are 140 yd.
    let text = r#"{"title": "t", "sett": 8, "ends": 56, "threading": "1 2", "yarns": [{"name": "y", "size": "8/2 cotton"}],
        "length": {"finished": 60, "waste": 30, "take_up": 0, "shrinkage": 0}}"#;
    assert_eq!(worked(text).yarn[0].length, f("140"));
}

#[test]
fn weft_as_taylor_reckons_it() {
    // W4 BRO: 37 1/2 in, 64 picks, 36 yd, 36s: 2 lb 13 3/4 oz (13.71).
    let text = r#"{"title": "t", "sett": 64, "ends": 2400, "threading": "1 2",
        "yarns": [{"name": "warp", "size": "30 cotton"}, {"name": "weft", "size": "36 cotton"}],
        "weft": {"yarn": "weft", "picks": 64}, "reeds": [{"dents": 32, "length": 48}],
        "length": {"finished": 1296, "waste": 0, "take_up": 0, "shrinkage": 0}}"#;
    let figures = worked(text);
    assert_eq!(figures.width, Some(f("37 1/2")));
    let weft = &figures.yarn[1];
    assert_eq!(weft.length, f("86400"), "37 1/2 x 64 x 36 yd");
    close(weft.weight.unwrap(), 2.0 + 13.71 / 16.0, 0.0005, "W4 BRO");
    let best = best_order(f("64"), f("32")).unwrap();
    assert_eq!(best.dents, [2], "R30: 2 per dent");
    assert!(near_orders(f("64"), f("32")).0.unwrap().exact);
}
