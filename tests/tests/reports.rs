//! The reports: whatever they put lines together by, and whatever file they are written to, all money comes to one sum.

#![allow(clippy::unwrap_used, clippy::panic, reason = "a test may stop")]

use std::collections::BTreeMap;

use knockon_core::edit::{Edit, apply};
use knockon_core::jobs::jobs;
use knockon_core::refund::CameBack;
use knockon_core::sheet::{LineState, Sheet};
use knockon_core::showing::Measure;
use knockon_core::survey::survey;
use knockon_core::{Amounts, Catalogue, Money, assess};
use knockon_report::document::{Block, Cell, Document, Sum, Table};
use knockon_report::kinds::{By, Kind, Other, Subject, document};
use knockon_report::write::flat::{FlatCell, flat};
use knockon_report::write::{Format, Paper, write};
use knockon_store::library;
use knockon_tests::cases::cases;
use knockon_tests::examples::each_example;
use knockon_tests::random_plan::eight_chosen;

/// Works on a plan of a sheet with a report of each kind.
fn with_each(
    sheet: &Sheet,
    plan: &str,
    catalogue: &Catalogue,
    by: By,
    kinds: &[Kind],
    check: impl Fn(Kind, &Document, &Amounts),
) {
    let a = assess(sheet, plan, catalogue);
    let work = jobs(sheet, &a, catalogue);
    let other = sheet.plans.keys().find(|id| *id != plan).unwrap();
    let second = assess(sheet, other, catalogue);
    let own = catalogue.for_sheet(sheet);
    let subject = Subject {
        sheet,
        plan,
        assessment: &a,
        catalogue: &own,
        jobs: &work,
        measure: Measure::Inch,
        day: None,
        by,
        other: Some(Other { plan: other, assessment: &second }),
        pictures: &BTreeMap::new(),
    };
    let all = a.totals.money.all();
    let difference = &second.totals.money.all() - &all;
    for kind in kinds {
        check(*kind, &document(*kind, &subject), if *kind == Kind::Compare { &difference } else { &all });
    }
}

/// What the money columns of a list come to.
fn money(document: &Document, list: &str) -> Amounts {
    let tables =
        document.lists().into_iter().find(|(name, _)| *name == list).map_or_else(Vec::new, |(_, t)| t);
    let sum = |table: &&Table| {
        let sums = table.sums().into_iter().flatten();
        sums.filter_map(|s| if let Sum::Money(m) = s { Some(m) } else { None })
            .fold(Amounts::default(), |a, b| &a + &b)
    };
    tables.iter().map(sum).fold(Amounts::default(), |a, b| &a + &b)
}

/// The same of a CSV, read by another program's rules: its last column of money added up by its column of currencies.
fn money_of_csv(bytes: &[u8], column: &str) -> Amounts {
    let text = std::str::from_utf8(bytes).unwrap().trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(text.as_bytes());
    let heads = reader.headers().unwrap().clone();
    let at = |name: &str| {
        heads.iter().position(|head| head == name).unwrap_or_else(|| panic!("{name} in {heads:?}"))
    };
    let (cost, currency) = (at(column), at("currency"));
    let mut all: Vec<Money> = Vec::new();
    for record in reader.records() {
        let record = record.unwrap();
        assert_eq!(record.len(), heads.len());
        if !record[cost].is_empty() {
            all.push(format!("{} {}", &record[cost], &record[currency]).parse().unwrap());
        }
    }
    all.iter().collect()
}

/// A record of buying: some in hand at a price of another currency, some sent back for money.
fn bought(sheet: &mut Sheet, catalogue: &Catalogue, plan: &str, seed: u64) {
    let mut rng = fastrand::Rng::with_seed(seed);
    for line in &assess(sheet, plan, catalogue).buy {
        let part = || line.part.clone();
        let state = match rng.u8(0..7) {
            0 => LineState::OnOrder,
            1 => LineState::InHand,
            2 => LineState::Fitted,
            3 => LineState::SentBack,
            _ => continue,
        };
        apply(sheet, &Edit::SetLine { part: part(), state }).unwrap();
        if rng.bool() {
            let currency = if rng.u8(0..5) == 0 { "EUR" } else { "USD" };
            let paid = Some(Money::new(rng.u32(1..90_000).into(), currency))
                .map(|m| Money { amount: m.amount / rust_decimal::Decimal::from(100), ..m });
            apply(sheet, &Edit::SetPaid { part: part(), paid: paid.clone() }).unwrap();
            if let Some(paid) = paid.filter(|_| rng.u8(0..4) == 0) {
                let back = Money { amount: paid.amount / rust_decimal::Decimal::from(4), ..paid };
                let back = Money { amount: back.amount.round_dp(2), ..back };
                sheet.lines.get_mut(&line.part).unwrap().came_back.insert(CameBack::Core, back);
            }
        }
    }
}

/// A buy list comes to the sums of the plan by supplier, by system and by state, on paper and in a spreadsheet; so do the
/// money of a book and the causes of a comparison.
fn one_sum(sheet: &Sheet, plan: &str, catalogue: &Catalogue, what: &str) {
    for by in By::ALL {
        with_each(sheet, plan, catalogue, by, &[Kind::BuyList], |_, told, all| {
            assert_eq!(money(told, "Buy list"), *all, "{what} {by:?}");
            if told.lists().iter().any(|(name, _)| *name == "Sums") {
                assert_eq!(money(told, "Sums"), *all, "{what} {by:?}");
            }
            let csv = write(told, Format::Csv, Paper::A4).unwrap();
            assert_eq!(money_of_csv(&csv, "cost"), *all, "{what} {by:?}");
        });
    }
    with_each(sheet, plan, catalogue, By::Supplier, &[Kind::Book, Kind::Compare], |kind, told, all| {
        let list = if kind == Kind::Book { "Money" } else { "Causes" };
        assert_eq!(money(told, list), *all, "{what} {kind:?}");
    });
}

#[test]
fn every_grouping_of_every_file_comes_to_one_sum() {
    let catalogue = library::shipped();
    for (name, sheet) in each_example() {
        for plan in sheet.plans.keys() {
            one_sum(&sheet, plan, &catalogue, &format!("{name} {plan}"));
        }
        for seed in 0..u64::from(cases(6)) {
            let mut sheet = sheet.clone();
            sheet.plans.insert("random".to_owned(), eight_chosen(seed, &sheet.vehicle, &catalogue));
            // bought for one plan, counted for another: some of it lies idle
            let plan = sheet.plan.clone();
            bought(&mut sheet, &catalogue, &plan, seed);
            one_sum(&sheet, "random", &catalogue, &format!("{name} seed {seed}"));
        }
    }
}

#[test]
fn every_kind_can_be_written_in_every_format_and_again_the_same() {
    let catalogue = library::shipped();
    let sheet = each_example().into_iter().find(|(name, _)| name == "furrow-10").unwrap().1;
    let plan = sheet.plan.clone();
    with_each(&sheet, &plan, &catalogue, By::Supplier, &Kind::ALL, |kind, told, _| {
        for format in Format::ALL {
            let once = write(told, format, Paper::Letter).unwrap_or_else(|why| panic!("{kind:?} {why}"));
            assert!(once.len() > 500, "{kind:?} {format:?}");
            if format != Format::Pdf || kind != Kind::Book {
                assert!(
                    once == write(told, format, Paper::Letter).unwrap(),
                    "{kind:?} {format:?} differs from run to run"
                );
            }
            let begins: &[u8] = match format {
                Format::Pdf => b"%PDF-1.7",
                Format::Html => b"<!DOCTYPE html>",
                Format::Xlsx => b"PK\x03\x04",
                Format::Csv => "\u{feff}".as_bytes(),
            };
            assert!(once.starts_with(begins), "{kind:?} {format:?}");
            if format == Format::Html {
                let text = String::from_utf8(once).unwrap();
                assert!(
                    !text.contains("http:") && !text.contains("https:") && !text.contains("src=\"//"),
                    "{kind:?}"
                );
            }
        }
    });
}

#[test]
fn the_walk_round_sheet_has_every_inspection_once_with_its_limits_and_cautions() {
    let catalogue = library::shipped();
    for (name, sheet) in each_example() {
        let found = survey(&sheet, &sheet.plan, &catalogue);
        with_each(&sheet, &sheet.plan, &catalogue, By::Supplier, &[Kind::WalkRound], |_, told, _| {
            let lists = told.lists();
            let rows: Vec<&Vec<Cell>> =
                lists.iter().flat_map(|(_, tables)| tables).flat_map(|t| &t.rows).map(|r| &r.cells).collect();
            let mut ids: Vec<(String, String)> = rows.iter().map(|c| (c[11].text(), c[10].text())).collect();
            let mut wanted: Vec<(String, String)> =
                found.lines.iter().map(|line| (line.position.clone(), line.inspection.clone())).collect();
            ids.sort();
            wanted.sort();
            assert_eq!(ids, wanted, "{name}");
            for (row, line) in
                found.lines.iter().filter(|line| !line.limits.say(Measure::Inch).is_empty()).map(|line| {
                    (
                        rows.iter()
                            .find(|c| c[11].text() == line.position && c[10].text() == line.inspection),
                        line,
                    )
                })
            {
                let limits = row.unwrap()[2].text().to_lowercase();
                assert!(
                    limits.starts_with(&line.limits.say(Measure::Inch).to_lowercase()),
                    "{name}: {limits}"
                );
            }
            let mut wanted = found.zones.iter().flat_map(|zone| found.cautions_in(zone));
            for block in &told.blocks {
                let Block::Caution(text, _) = block else { continue };
                let lead = wanted.next().unwrap().split('{').next().unwrap().trim_end_matches('.');
                // a quantity is told, and the full stop is the writer's
                assert!(
                    text.starts_with(lead) && !text.contains('{') && !text.ends_with('.'),
                    "{name}: {text}"
                );
            }
            assert_eq!(wanted.next(), None, "{name}");
        });
    }
}

/// Words somebody typed: a formula, a mark of a page, letters no font has, signs that take no room, no words at all.
const TYPED: [&str; 7] = [
    "=HYPERLINK(\"x\")",
    "</script><b>x</b>",
    "\u{1f69c} tractor \u{4e00}\u{5b57}",
    "\u{202e}backwards\u{200b}",
    "a\u{0}b\tc\r\nd",
    "",
    "\u{5e9}\u{5dc}\u{5d5}\u{5dd} 12",
];

#[test]
fn what_somebody_typed_breaks_no_file() {
    let catalogue = library::shipped();
    let mut sheet = each_example().into_iter().find(|(name, _)| name == "furrow-10").unwrap().1;
    let plan = sheet.plan.clone();
    let places: Vec<String> = sheet.survey.keys().cloned().collect();
    for (place, typed) in places.iter().zip(TYPED.iter().cycle()) {
        sheet.survey.get_mut(place).unwrap().note = format!("{typed}{}", "W".repeat(300));
        sheet.notes.insert(place.clone(), (*typed).to_owned());
    }
    sheet.name = TYPED[1].to_owned();
    sheet.about = TYPED[2].to_owned();
    let lines: Vec<String> = assess(&sheet, &plan, &catalogue).buy.iter().map(|l| l.part.clone()).collect();
    for (part, typed) in lines.iter().zip(TYPED.iter().cycle()) {
        sheet.lines.entry(part.clone()).or_default().supplier = (*typed).to_owned();
    }
    with_each(
        &sheet,
        &plan,
        &catalogue,
        By::Supplier,
        &[Kind::BuyList, Kind::Book, Kind::Tags],
        |kind, told, _| {
            for format in Format::ALL {
                let bytes = write(told, format, Paper::A4).unwrap_or_else(|why| panic!("{kind:?} {why}"));
                match format {
                    Format::Html => {
                        assert!(!String::from_utf8(bytes).unwrap().contains("<b>x</b>"), "{kind:?}")
                    }
                    Format::Csv => {
                        let text = String::from_utf8(bytes).unwrap();
                        let mut reader = csv::ReaderBuilder::new()
                            .flexible(true)
                            .has_headers(false)
                            .from_reader(text.as_bytes());
                        for record in reader.records() {
                            for cell in record.unwrap().iter() {
                                let plain = cell.trim_start_matches('\u{feff}');
                                assert!(!plain.trim_start().starts_with(['=', '@']), "{kind:?} {cell:?}");
                            }
                        }
                    }
                    Format::Pdf | Format::Xlsx => {}
                }
            }
        },
    );
}

#[test]
fn a_list_of_ten_thousand_lines_is_written() {
    let mut table = Table {
        list: "Long".to_owned(),
        columns: vec![
            knockon_report::document::Column::new("item", knockon_report::document::Of::Words),
            knockon_report::document::Column::new("cost", knockon_report::document::Of::Money).summed(),
        ],
        ..Table::default()
    };
    let price: Money = "1.01 USD".parse().unwrap();
    for n in 0..10_000 {
        let cells = vec![Cell::Words(format!("part {n}")), Cell::Money(price.clone())];
        table.rows.push(knockon_report::document::Row { cells, depth: 0 });
    }
    let told = Document {
        title: "Long".to_owned(),
        blocks: vec![Block::Table(table.clone())],
        ..Document::default()
    };
    for format in Format::ALL {
        write(&told, format, Paper::Letter).unwrap();
    }
    let list = flat(&[&table]);
    assert_eq!(list.rows.len(), 10_000);
    assert_eq!(
        list.rows[3],
        [
            FlatCell::Words("part 3".to_owned()),
            FlatCell::Amount(price.amount),
            FlatCell::Words("USD".to_owned())
        ]
    );
    assert_eq!(table.sum(1), Some(Sum::Money([&"10100.00 USD".parse().unwrap()].into_iter().collect())));
}

#[test]
fn a_check_that_failed_stands_in_the_list_and_in_the_book_with_what_was_read_and_its_limit() {
    let catalogue = library::shipped();
    let mut sheet = knockon_store::sheets::parse("example", library::example()).expect("the example opens");
    let plan = sheet.plan.clone();
    let a = assess(&sheet, &plan, &catalogue);
    let work = jobs(&sheet, &a, &catalogue);
    let check = work.checks.iter().find(|check| check.limit.is_some()).expect("a check with a limit");
    let limit = check.limit.as_ref().map(|limit| limit.text.clone()).unwrap_or_default();
    let signed = |reading: &str| knockon_core::sheet::Signed {
        reading: reading.to_owned(),
        by: "Ann".to_owned(),
        ..Default::default()
    };
    // words are no figure, and no figure does not pass
    sheet.signed.insert(check.id.clone(), signed("looks fine"));
    let work = jobs(&sheet, &a, &catalogue);
    let subject = Subject {
        sheet: &sheet,
        plan: &plan,
        assessment: &a,
        catalogue: &catalogue,
        jobs: &work,
        measure: Measure::Inch,
        day: None,
        by: By::Supplier,
        other: None,
        pictures: &BTreeMap::new(),
    };
    for kind in [Kind::Commissioning, Kind::Book] {
        let told = document(kind, &subject);
        let page = String::from_utf8(write(&told, Format::Html, Paper::A4).expect("a page")).expect("text");
        let failed = format!("Failed: </strong>Read &quot;looks fine&quot;, and what passes is {limit}.");
        assert!(page.contains(&failed), "{kind:?}: {failed}");
        assert!(page.contains("Ann"), "{kind:?}");
        write(&told, Format::Pdf, Paper::A4).expect("a PDF");
        assert!(!page.contains(&format!("data-tick=\"check:{}\" checked", check.id)), "{kind:?}");
    }
}
