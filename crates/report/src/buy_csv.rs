//! The buy list as CSV that a spreadsheet opens unharmed.
use knockon_core::assessment::{BoxLine, BuyLine, BuyRow};
use knockon_core::refund::CameBack;
use knockon_core::{Assessment, Money};

use crate::csv_safe::safe;

/// Tells a spreadsheet that takes the code page of its machine that this is UTF-8: a degree sign stays one.
const MARK: char = '\u{feff}';

/// The buy list. Cells that a spreadsheet would take for a formula are made safe with a leading apostrophe.
#[must_use]
pub fn buy_csv(assessment: &Assessment) -> String {
    let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    // writing into memory cannot fail
    let _ = out.write_record([
        "item",
        "part id",
        "quantity",
        "price each",
        "total",
        "currency",
        "refunded",
        "core returned",
        "state",
        "supplier",
        "for",
        "left out because",
        "caution",
    ]);
    for row in assessment.with_boxes(&assessment.buy.iter().collect::<Vec<_>>()) {
        let cells = match row {
            BuyRow::Line(line) => line_cells(line),
            BuyRow::Boxed(line, _) => box_cells(line),
        };
        let _ = out.write_record(cells.iter().map(|cell| safe(cell)));
    }
    let list = out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default();
    format!("{MARK}{list}")
}

/// A content of a kit, which has no price of its own.
fn box_cells(line: &BoxLine) -> [String; 13] {
    let mut cells = std::array::from_fn(|_| String::new());
    let use_text = format!("in the box of {}: {}", line.kit_name, line.goes_text());
    let told = [
        (0, line.name.clone()),
        (1, line.key.part.clone()),
        (2, line.qty.to_string()),
        (8, line.state.word().to_owned()),
        (10, use_text),
    ];
    for (at, text) in told {
        cells[at] = text;
    }
    cells
}

fn line_cells(line: &BuyLine) -> [String; 13] {
    let amount = |m: &Option<Money>| m.as_ref().map_or_else(String::new, |m| format!("{:.2}", m.amount));
    // what is of another currency than the line says so, and no sum over the column counts it
    let same = |m: &&Money| line.price.as_ref().is_none_or(|price| price.currency == m.currency);
    let back = |what: CameBack| {
        let money = line.came_back.get(&what);
        money.map_or_else(String::new, |m| if same(&m) { format!("{:.2}", m.amount) } else { m.to_string() })
    };
    [
        line.name.clone(),
        line.part.clone(),
        line.qty.to_string(),
        amount(&line.price),
        // what is left out is not bought: a sum over the column must not count it
        if line.waived.is_some() { String::new() } else { amount(&line.total) },
        line.price.as_ref().or(line.total.as_ref()).map_or_else(String::new, |m| m.currency.clone()),
        back(CameBack::Refund),
        back(CameBack::Core),
        if line.waived.is_some() { "left out".to_owned() } else { line.stands() },
        line.supplier.clone(),
        line.uses_text(),
        line.waived.clone().unwrap_or_default(),
        line.danger.clone().unwrap_or_default(),
    ]
}

#[cfg(test)]
mod tests {
    use knockon_core::Money;
    use knockon_core::assessment::BuyLine;
    use knockon_core::refund::CameBack;
    use knockon_core::sheet::LineState;

    use super::line_cells;

    #[test]
    fn a_column_of_totals_adds_up_to_what_is_bought() {
        let price = Some(Money::new(12.into(), "USD"));
        let line = BuyLine {
            part: "hose".to_owned(),
            name: "Hose".to_owned(),
            qty: 2,
            short: 0,
            total: price.as_ref().map(|m| m.times(2)),
            price,
            came_back: [(CameBack::Core, Money::new(5.into(), "USD"))].into(),
            supplier: String::new(),
            state: LineState::ToBuy,
            uses: Vec::new(),
            waived: None,
            danger: None,
            made: false,
            system: "fuel".to_owned(),
            measured_first: false,
            old_price: None,
        };
        assert_eq!(line_cells(&line)[3..9], ["12.00", "24.00", "USD", "", "5.00", "to buy"]);
        let left_out = BuyLine { waived: Some("the old one is good".to_owned()), ..line };
        assert_eq!(line_cells(&left_out)[3..9], ["12.00", "", "USD", "", "5.00", "left out"]);
    }
}
