//! Money that came back, told of the line it came back for, and what is odd about the money of a line.

use crate::assessment::BuyLine;
use crate::money::Money;
use crate::sheet::{Line, LineState};

impl BuyLine {
    /// What came back, in words: "60.00 USD core deposit returned"; `None` where nothing did.
    #[must_use]
    pub fn came_back_text(&self) -> Option<String> {
        let told: Vec<String> =
            self.came_back.iter().map(|(what, money)| format!("{money} {}", what.word())).collect();
        (!told.is_empty()).then(|| told.join(", "))
    }

    /// The price of all less what came back in its currency, where something is paid; `None`: no price.
    #[must_use]
    pub fn net(&self) -> Option<Money> {
        let total = self.total.clone()?;
        if self.state == LineState::ToBuy {
            return Some(total);
        }
        let back = self.came_back.values().filter(|money| money.currency == total.currency);
        Some(Money {
            amount: total.amount - back.map(|money| money.amount).sum::<rust_decimal::Decimal>(),
            ..total
        })
    }

    /// Some of what was paid for a part that was sent back has come back: the rest is spent.
    #[must_use]
    pub fn partly_back(&self) -> bool {
        self.state == LineState::SentBack && !self.came_back.is_empty()
    }
}

/// What is odd about the money of a line: path in the sheet and a sentence. No sign says what money came back for, and
/// nothing comes back before anything is paid.
pub(crate) fn odd(id: &str, line: &Line) -> Vec<(String, String)> {
    let below = |money: &Money| money.amount.is_sign_negative() && !money.amount.is_zero();
    let mut out = Vec::new();
    if let Some(paid) = line.paid.as_ref().filter(|money| below(money)) {
        let message = format!(
            "\"{paid}\" is below 0: money that came back stands under \"came_back\", as \"refund\" or \"core\", without a \
             minus; it is counted as it stands"
        );
        out.push((format!("lines.{id}.paid"), message));
    }
    for (what, money) in line.came_back.iter().filter(|(_, money)| below(money)) {
        let message = format!(
            "\"{money}\" is below 0: what came back is written without a minus; it is counted as it stands"
        );
        out.push((format!("lines.{id}.came_back.{}", what.id()), message));
    }
    if line.state == LineState::ToBuy && !line.came_back.is_empty() {
        let message = "money came back for what is still to buy; it is not counted: say where the part stands, or take \
                       it out";
        out.push((format!("lines.{id}.came_back"), message.to_owned()));
    }
    if line.state.is_here() && line.paid.is_none() && !line.came_back.is_empty() {
        let message =
            "money came back, and nobody says what was paid: it is not counted off until that is entered";
        out.push((format!("lines.{id}.came_back"), message.to_owned()));
    }
    out
}

#[cfg(test)]
mod tests;
