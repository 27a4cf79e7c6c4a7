//! Each limit of the trade, held to its figures: a reading on each side, at the edge, and nearer to it than the tool reads.
#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeSet;

use knockon_core::catalogue::InspectionEntry;
use knockon_core::date::day;
use knockon_core::sheet::{ForSale, OwnBounds, Reading, Verdict};
use knockon_core::survey::{Line, Outcome, survey};
use knockon_core::{Catalogue, Sheet};
use knockon_store::{library, sheets};
use knockon_tests::schemas::root;

const ON: &str = "2026-06-15";

fn catalogue() -> Catalogue {
    library::shipped().on(day(ON).unwrap())
}

/// A vehicle with nothing said of it but a reading.
fn bare(vehicle: &str) -> Sheet {
    let file = match vehicle {
        "f" => "furrow-10",
        "l" => "larksong-1600",
        _ => "scree-82",
    };
    let mut sheet = sheets::open(&root().join(format!("examples/{file}.json"))).unwrap();
    (sheet.survey, sheet.made, sheet.readings) = Default::default();
    (sheet.seen, sheet.own_bounds, sheet.put_off) = Default::default();
    sheet.not_driven = None;
    sheet
}

/// The line of an inspection; where the vehicle came without such a part, with one of the library in its place.
fn line(sheet: &mut Sheet, catalogue: &Catalogue, place: &str, inspection: &str) -> Line {
    let of = |sheet: &Sheet| {
        let found = survey(sheet, &sheet.plan, catalogue);
        let mut all = found.lines.into_iter().chain(found.before_buying);
        all.find(|line| line.position == place && line.inspection == inspection)
    };
    if let Some(line) = of(sheet) {
        return line;
    }
    let v = &catalogue.vehicles[&sheet.vehicle];
    let class = v.positions[v.position_ix[place]].class;
    for (id, part) in catalogue.parts.iter().filter(|(_, part)| part.class == class) {
        let _ = part;
        sheet.as_found.insert(place.to_owned(), Some(catalogue.part_names.id(id).to_owned()));
        if let Some(line) = of(sheet) {
            return line;
        }
    }
    panic!("no {inspection} at {place}");
}

fn read(sheet: &mut Sheet, catalogue: &Catalogue, place: &str, inspection: &str, value: &str) -> Outcome {
    let reading =
        Reading { of: inspection.into(), value: value.into(), on: Some(ON.into()), ..Reading::default() };
    sheet.readings.insert(place.to_owned(), vec![reading]);
    line(sheet, catalogue, place, inspection).outcome
}

fn verdict(word: &str) -> Verdict {
    Verdict::ALL.into_iter().find(|v| v.word() == word).unwrap_or_else(|| panic!("{word}"))
}

fn rows(file: &str) -> Vec<String> {
    let text = std::fs::read_to_string(root().join("tests/survey").join(file)).unwrap();
    text.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty()).map(str::to_owned).collect()
}

/// From, to; open where there is none.
type Ends = (Option<f64>, Option<f64>);

/// The verdict by the figures of the trade.
fn by_hand(value: f64, bands: &[(Ends, Verdict)], beyond: Verdict) -> Verdict {
    let holds = |(least, most): &Ends| {
        least.is_none_or(|l| value >= l - 1e-9 * l.abs()) && most.is_none_or(|m| value <= m + 1e-9 * m.abs())
    };
    bands.iter().find(|(ends, _)| holds(ends)).map_or(beyond, |(_, verdict)| *verdict)
}

#[test]
fn every_figure_has_the_verdict_of_the_trade_on_each_side_at_its_edge_and_within_its_tool() {
    let catalogue = catalogue();
    let mut tried = 0;
    for row in rows("limits.txt") {
        let cells: Vec<&str> = row.split_whitespace().collect();
        let [_, vehicle, place, inspection, unit, gl, gm, wl, wm, rl, rm, beyond, accuracy] = cells[..]
        else {
            panic!("{row}")
        };
        let end = |cell: &str| match cell {
            "-" | "." => None,
            number => Some(number.trim_start_matches('~').parse::<f64>().unwrap()),
        };
        let exact = !row.contains('~');
        let mut bands = vec![((end(gl), end(gm)), Verdict::Good)];
        if wl != "." {
            bands.push(((end(wl), end(wm)), Verdict::Watch));
        }
        if rl != "." {
            bands.push(((end(rl), end(rm)), Verdict::Renew));
        }
        let beyond = verdict(beyond);
        let accuracy: f64 = accuracy.parse().unwrap();
        let mut sheet = bare(vehicle);
        line(&mut sheet, &catalogue, place, inspection);
        let unit = if unit == "." { "" } else { unit };
        let ends: BTreeSet<String> = [gl, gm, wl, wm, rl, rm]
            .iter()
            .filter(|cell| end(cell).is_some())
            .map(|cell| cell.trim_start_matches('~').to_owned())
            .collect();
        for text in &ends {
            let at: f64 = text.parse().unwrap();
            let hair = if at == 0.0 { 1e-3 } else { at.abs() * 1e-3 };
            let step = accuracy.max(hair) * 1.01;
            // how many decimals do not matter: the number is what is read
            for value in [at, at - hair, at + hair, at - step, at + step] {
                if !exact && (value - at).abs() < hair / 2.0 {
                    continue;
                }
                let wanted = by_hand(value, &bands, beyond);
                let exactly = format!("{value:.9} {unit} ±0 {unit}");
                let found = read(&mut sheet, &catalogue, place, inspection, &exactly);
                assert_eq!(found, Outcome::Verdict(wanted), "{row}: {exactly}");
                tried += 1;
            }
            // by the tool alone: nearer than it reads, both verdicts are told
            for value in [at, at - accuracy * 0.5, at + accuracy * 0.5] {
                let sides =
                    [value - accuracy, value, value + accuracy, at, at - hair * 1e-3, at + hair * 1e-3]
                        .map(|v| by_hand(v, &bands, beyond));
                let (better, worse) = (*sides.iter().min().unwrap(), *sides.iter().max().unwrap());
                let is_nothing = value == 0.0;
                if accuracy == 0.0 || is_nothing || better == worse || !exact {
                    continue;
                }
                let found = read(&mut sheet, &catalogue, place, inspection, &format!("{value:.9} {unit}"));
                let is_undecided =
                    matches!(found, Outcome::Undecided { better: b, worse: w } if b <= better && w >= worse);
                assert!(is_undecided, "{row}: {value} {unit}: {found:?}, expected {better:?} or {worse:?}");
                tried += 1;
            }
        }
    }
    assert!(tried > 800, "{tried}");
}

#[test]
fn what_is_seen_has_the_verdict_of_the_trade() {
    let catalogue = catalogue();
    let words = |(id, entry): (&String, &InspectionEntry)| {
        let all: Vec<_> = entry.def.words.keys().map(|word| (id.clone(), word.clone())).collect();
        all
    };
    let mut left: BTreeSet<(String, String)> = catalogue.inspections.iter().flat_map(words).collect();
    for row in rows("words.txt") {
        let mut cells = row.split(" | ");
        let head: Vec<&str> = cells.next().unwrap().split_whitespace().collect();
        let [_, vehicle, place, inspection] = head[..] else { panic!("{row}") };
        let mut sheet = bare(vehicle);
        // so that what is looked at only before buying is asked too
        sheet.for_sale = Some(ForSale::default());
        line(&mut sheet, &catalogue, place, inspection);
        for cell in cells {
            let (word, wanted) = cell.rsplit_once('=').unwrap();
            let found = read(&mut sheet, &catalogue, place, inspection, word);
            assert_eq!(found, Outcome::Verdict(verdict(wanted.trim())), "{row}: {word}");
            left.remove(&(inspection.to_owned(), word.trim().to_owned()));
        }
    }
    assert!(left.is_empty(), "no verdict of the trade for {left:?}");
}

/// Common practice: what holds for each cell of a battery holds for three as for six, so a 6 V system has half the volts.
#[test]
fn a_six_volt_system_has_half_the_volts_and_one_that_nobody_knows_has_no_limit() {
    let catalogue = catalogue();
    let said = |volts: Option<&str>, place: &str, inspection: &str, value: &str| {
        let mut sheet = bare("f");
        let fact = volts.unwrap_or("unknown: the labels of lamps and coil");
        sheet.facts.insert("nominal-voltage".to_owned(), fact.into());
        read(&mut sheet, &catalogue, place, inspection, value)
    };
    let good = Outcome::Verdict(Verdict::Good);
    for (place, inspection, twelve) in [
        ("battery", "battery-rest", 12.65),
        ("battery", "battery-load", 9.8),
        ("generator", "charging-volts", 14.0),
        ("generator", "charging-volts-lamps", 13.4),
        ("headlamps", "headlamp-volts", 13.6),
        ("headlamps", "lamp-drop", 0.3),
    ] {
        let text = |volts: f64| format!("{volts} V ±0.01 V");
        assert_eq!(said(Some("12 V"), place, inspection, &text(twelve)), good, "{inspection}");
        assert_eq!(said(Some("6 V"), place, inspection, &text(twelve / 2.0)), good, "{inspection}");
        let unknown = said(None, place, inspection, &text(twelve));
        assert!(matches!(unknown, Outcome::NoBounds(_)), "{inspection}: {unknown:?}");
    }
    // flat on 12 V what is full on 6 V; boiled dry on 6 V by what charges 12 V
    assert_eq!(said(Some("12 V"), "battery", "battery-rest", "6.35 V"), Outcome::Verdict(Verdict::Renew));
    assert_eq!(said(Some("6 V"), "generator", "charging-volts", "14 V"), Outcome::Verdict(Verdict::Renew));
}

#[test]
fn age_fails_whatever_it_looks_like() {
    let catalogue = catalogue();
    for row in rows("ages.txt") {
        let cells: Vec<&str> = row.split_whitespace().collect();
        let [_, vehicle, place, inspection, good, watch, beyond] = cells[..] else { panic!("{row}") };
        let (good, watch): (i32, i32) = (good.parse().unwrap(), watch.parse().unwrap());
        let mut sheet = bare(vehicle);
        assert_eq!(line(&mut sheet, &catalogue, place, inspection).outcome, Outcome::ToMeasure, "{row}");
        for (years, before, wanted) in [
            (good, "06-15", Verdict::Good),
            (good, "06-14", Verdict::Watch),
            (watch, "06-15", Verdict::Watch),
            (watch, "06-14", verdict(beyond)),
        ] {
            sheet.made.insert(place.to_owned(), format!("{}-{before}", 2026 - years));
            let found = line(&mut sheet, &catalogue, place, inspection).outcome;
            assert_eq!(found, Outcome::Verdict(wanted), "{row}: {years} years, {before}");
        }
        // known to the year alone it may be either
        sheet.made.insert(place.to_owned(), (2026 - watch).to_string());
        let found = line(&mut sheet, &catalogue, place, inspection).outcome;
        assert_eq!(found, Outcome::Undecided { better: Verdict::Watch, worse: verdict(beyond) }, "{row}");
    }
}

#[test]
fn all_seventy_one_limits_are_held_and_what_is_not_measured_is_never_good() {
    let all: BTreeSet<String> = ["limits.txt", "words.txt", "ages.txt"]
        .iter()
        .flat_map(|file| rows(file))
        .map(|row| row.split_whitespace().next().unwrap().to_owned())
        .collect();
    let wanted: BTreeSet<String> = (1..=71).map(|n| format!("L{n:02}")).collect();
    assert_eq!(wanted.difference(&all).collect::<Vec<_>>(), Vec::<&String>::new());
    let catalogue = catalogue();
    for vehicle in ["f", "l", "s"] {
        let sheet = bare(vehicle);
        let found = survey(&sheet, &sheet.plan, &catalogue);
        assert!(found.lines.len() > 70, "{}", found.lines.len());
        for line in &found.lines {
            assert!(line.outcome.is_open() && line.verdict().is_none(), "{}: {:?}", line.name, line.outcome);
            assert!(line.at_the_bench || line.is_open(), "{}", line.name);
        }
    }
}

#[test]
fn every_inspection_of_the_library_is_held_by_a_row_here() {
    let held: BTreeSet<String> = ["limits.txt", "words.txt", "ages.txt"]
        .iter()
        .flat_map(|file| rows(file))
        .map(|row| row.split_whitespace().nth(3).unwrap().to_owned())
        .collect();
    let catalogue = catalogue();
    let mut free: Vec<&str> = catalogue.inspections.keys().map(String::as_str).collect();
    // front and rear are alike
    free.retain(|id| !held.contains(*id) && !held.contains(&id.replace("rear-", "front-")));
    free.retain(|id| !held.contains(&id.replace("front-", "rear-")));
    // without a renewal by the figure, or on no vehicle of the library: held below and in the core
    assert_eq!(
        free,
        ["ball-joint-play", "booster-hold", "coolant-night", "crankcase-pressure", "radiator-spread"]
    );
}

#[test]
fn what_the_maker_says_goes_before_the_trade() {
    let catalogue = catalogue();
    let mut sheet = bare("f");
    let (place, of) = ("front-brakes", "front-drum-oversize");
    assert_eq!(read(&mut sheet, &catalogue, place, of, "1.6 mm"), Outcome::Verdict(Verdict::Stop));
    let own = OwnBounds {
        good: serde_json::from_value(serde_json::json!({"most": "2.3 mm"})).unwrap(),
        source: "stamped on the drum".into(),
        ..OwnBounds::default()
    };
    sheet.own_bounds.entry(place.into()).or_default().insert(of.into(), own);
    assert_eq!(read(&mut sheet, &catalogue, place, of, "1.6 mm"), Outcome::Verdict(Verdict::Good));
    assert_eq!(read(&mut sheet, &catalogue, place, of, "2.4 mm"), Outcome::Verdict(Verdict::Stop));
    assert_eq!(line(&mut sheet, &catalogue, place, of).whose, "stamped on the drum");
}

#[test]
fn what_depends_on_a_fact_nobody_states_has_no_verdict_until_it_is_stated() {
    let catalogue = catalogue();
    let mut sheet = bare("f");
    let of = "coolant-night";
    let found = read(&mut sheet, &catalogue, "radiator", of, "-20 °C");
    assert!(matches!(found, Outcome::NoBounds(_)), "{found:?}");
    sheet.facts.insert("coldest-night".into(), "-12 °C".into());
    // five degrees beyond the coldest night
    assert_eq!(read(&mut sheet, &catalogue, "radiator", of, "-20 °C"), Outcome::Verdict(Verdict::Good));
    assert_eq!(read(&mut sheet, &catalogue, "radiator", of, "-15 °C"), Outcome::Verdict(Verdict::Renew));
}

#[test]
fn nobody_lies_down_twice() {
    let catalogue = catalogue();
    for vehicle in ["f", "l", "s"] {
        let sheet = bare(vehicle);
        let found = survey(&sheet, &sheet.plan, &catalogue);
        let lying: Vec<bool> =
            found.zones.iter().map(|zone| zone.posture == knockon_core::library::Posture::Lying).collect();
        let times = lying.windows(2).filter(|pair| !pair[0] && pair[1]).count();
        assert_eq!(times, 1, "{vehicle}: {lying:?}");
        // and in each zone once: the lines of a zone stand together
        let mut zones: Vec<&str> = found.lines.iter().map(|line| line.zone.as_str()).collect();
        zones.dedup();
        assert_eq!(zones, found.zones.iter().map(|zone| zone.id.as_str()).collect::<Vec<_>>(), "{vehicle}");
    }
}
