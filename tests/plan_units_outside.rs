//! Yarn numbers against an independent library of units: pint for Python, from whose tex, denier, Ne, Nm and
//! jute, and from yards and pounds, every system is worked out again. Where Python or pint is not there the
//! test says so aloud. `ENDSMEET_PYTHON` names a Python that has pint.

use endsmeet::plan::yarn::{SYSTEMS, System, read_yarn};
use std::io::Write;
use std::process::{Command, Stdio};

const SCRIPT: &str = r"
import sys
import pint
u = pint.UnitRegistry()
tex, yd, lb, oz, grain, m, kg, g = u.tex, u.yard, u.pound, u.ounce, u.grain, u.meter, u.kilogram, u.gram
indirect = {'cotton': 840 * yd / lb, 'spun_silk': 840 * yd / lb, 'worsted': 560 * yd / lb, 'linen': 300 * yd / lb,
    'run': 1600 * yd / lb, 'cut': 300 * yd / lb, 'yorkshire': 1536 * yd / (6 * lb), 'dewsbury': yd / oz,
    'french': 1000 * m / (500 * g), 'yards_per_pound': yd / lb, 'metres_per_kilogram': m / kg}
direct = {'tex': tex, 'dtex': u.dtex, 'denier': u.denier, 'grain': grain / (120 * yd), 'grain_per_yard': grain / yd,
    'jute': lb / (14400 * yd), 'dram': u.dram / (1000 * yd)}
for line in sys.stdin:
    key, number, of = line.split()
    t = float(number) * tex
    if of == 'metric':
        print((1 / t).to('kilometer / kilogram').magnitude)
    elif of in indirect:
        print(((1 / t) / indirect[of]).to('').magnitude)
    else:
        print((t / direct[of]).to('').magnitude)
";

fn python() -> Option<String> {
    let python = std::env::var("ENDSMEET_PYTHON").unwrap_or_else(|_| "python3".into());
    let has = Command::new(&python)
        .args(["-c", "import pint"])
        .stderr(Stdio::null())
        .status()
        .ok()?;
    has.success().then_some(python)
}

#[test]
fn every_system_agrees_with_an_independent_library_of_units() {
    let Some(python) = python() else {
        println!("SKIPPED: no python3 with pint here, so yarn numbers were not checked against it");
        return;
    };
    let mut asked = Vec::new();
    for size in ["8/2", "2/24", "16/3", "40", "7.5", "120/2", "1/2"] {
        for &(system, key, words) in SYSTEMS {
            let yarn = read_yarn(&format!("{size} {}", words[0])).unwrap();
            for &(of, of_key, _) in SYSTEMS {
                asked.push((key, yarn.tex, of, of_key));
                assert!(system.tex_of(yarn.strands[0].size).is_some());
            }
        }
    }
    let mut child = Command::new(python)
        .args(["-c", SCRIPT])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let lines: String = asked
        .iter()
        .map(|(key, tex, _, of)| format!("{key} {} {of}\n", exact_enough(*tex)))
        .collect();
    let mut stdin = child.stdin.take().unwrap();
    let writer = std::thread::spawn(move || stdin.write_all(lines.as_bytes()));
    let out = child.wait_with_output().unwrap();
    writer.join().unwrap().unwrap();
    assert!(out.status.success());
    let answers: Vec<f64> = String::from_utf8(out.stdout)
        .unwrap()
        .lines()
        .map(|l| l.parse().unwrap())
        .collect();
    assert_eq!(answers.len(), asked.len());
    for ((key, tex, of, of_key), theirs) in asked.into_iter().zip(answers) {
        let ours = System::number_of(of, tex).unwrap();
        #[allow(clippy::cast_precision_loss)]
        let ours = ours.numerator() as f64 / ours.denominator() as f64;
        let off = (ours / theirs - 1.0).abs();
        assert!(
            off < 1e-9,
            "{key} {tex:?} in {of_key}: ours {ours}, theirs {theirs}"
        );
    }
    println!("compared every system with every other over 7 sizes");
}

/// A tex as a float with all its places.
fn exact_enough(tex: endsmeet::quantity::Fraction) -> String {
    #[allow(clippy::cast_precision_loss)]
    let float = tex.numerator() as f64 / tex.denominator() as f64;
    format!("{float:.17}")
}
