//! The sessions of the work as a calendar that other programs read (RFC 5545): a day for each session that holds work, and
//! one for each last day to order something. Whole days, for nobody said at which hour.

use icalendar::{Calendar, Component, Event, Property};
use knockon_core::assessment::Assessment;
use knockon_core::date::Date;
use knockon_core::jobs::Jobs;
use knockon_core::schedule::Schedule;
use knockon_core::seal;

use crate::schedule::{hours, name_of, parts_of, to_order, weeks};

/// The calendar; `None`: no day is known. The same in gives the same out: no clock, no number of chance.
#[must_use]
pub fn calendar(found: &Jobs, plan: &Schedule, a: &Assessment, vehicle: &str) -> Option<String> {
    let stamp = plan.settings.today.or(plan.settings.first)?;
    let mut out = Calendar::new();
    // the crate names itself there
    out.properties.retain(|property| property.key() != "PRODID");
    out.append_property(Property::new("PRODID", "-//Knockon//Jobs//EN"));
    out.append_property(Property::new("X-KNOCKON-SEAL", seal::PLACE));
    let name = |id: &str| name_of(found, id).to_owned();
    let mut put = |id: &str, day: Date, summary: String, description: String| {
        let mut event = Event::new();
        event.add_property("UID", format!("{}@{}.knockon.invalid", plain(id), plain(vehicle)));
        event.add_property("DTSTAMP", format!("{}T000000Z", compact(stamp)));
        event.append_property(whole_day("DTSTART", day));
        if let Ok(next) = day.tomorrow() {
            event.append_property(whole_day("DTEND", next));
        }
        event.summary(&line(&summary)).description(&lines(&description));
        event.add_property("TRANSP", "TRANSPARENT");
        out.push(event.done());
    };
    for session in &plan.sessions {
        let (Some(day), Some(first)) = (session.day, session.blocks.first()) else { continue };
        let more = match session.blocks.len() {
            1 => String::new(),
            n => format!(" and {} more", n - 1),
        };
        let lines = session.blocks.iter().map(|block| {
            let mut line = format!("{} ({})", name(&block.job), hours(block.minutes));
            if block.piece.1 > 1 {
                line.push_str(&format!(", part {} of {}", block.piece.0, block.piece.1));
            }
            let parts = found.jobs.iter().find(|job| job.id == block.job).map(|job| parts_of(job, a));
            if let Some(parts) = parts.filter(|parts| !parts.is_empty()) {
                line.push_str(&format!("\n  with: {}", parts.join("; ")));
            }
            line
        });
        let text = lines.collect::<Vec<_>>().join("\n");
        put(&format!("session-{day}"), day, format!("{}{more}", name(&first.job)), text);
    }
    for order in &plan.orders {
        let Some(latest) = order.latest else { continue };
        // what is overdue is ordered today
        let day = latest.max(stamp);
        let takes = order.weeks.map_or_else(String::new, |of| format!(", {} from the order", weeks(of)));
        let text = format!(
            "For: {}{takes}. This is the last day on which it can be here in time.",
            name(&order.job)
        );
        put(&format!("order-{}", order.part), day, format!("Order: {}", to_order(order)), text);
    }
    if let Some(wanted) = plan.settings.wanted {
        put("wanted", wanted, "Wanted".to_owned(), "The day on which the vehicle is wanted.".to_owned());
    }
    Some(folded(&out.to_string()))
}

/// An id as it stands in a UID: letters, digits, `-`, `_` and `.` as they are, all else by its octets behind a % (as RFC 3986
/// writes them), so that two ids never come out as one.
fn plain(id: &str) -> String {
    let mut out = String::new();
    for octet in id.bytes() {
        match octet {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'_' | b'.' => out.push(char::from(octet)),
            _ => out.push_str(&format!("%{octet:02X}")),
        }
    }
    out
}

/// A text without what no text may have (RFC 5545, 3.3.11): control characters but for ends of lines, which are of one kind.
fn lines(text: &str) -> String {
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    text.chars().filter(|c| !c.is_control() || matches!(c, '\n' | '\t')).collect()
}

/// The same in one line.
fn line(text: &str) -> String {
    lines(text).replace('\n', " ")
}

/// Lines of 75 octets at most (RFC 5545, 3.1): the last piece of a line comes out one too long.
fn folded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for line in text.replace("\r\n ", "").split_terminator("\r\n") {
        let mut octets = 0;
        for letter in line.chars() {
            if octets + letter.len_utf8() > 75 {
                out.push_str("\r\n ");
                octets = 1;
            }
            out.push(letter);
            octets += letter.len_utf8();
        }
        out.push_str("\r\n");
    }
    out
}

fn whole_day(word: &str, day: Date) -> Property {
    Property::new(word, compact(day)).append_parameter(icalendar::Parameter::new("VALUE", "DATE")).done()
}

fn compact(day: Date) -> String {
    day.to_string().replace('-', "")
}

#[cfg(test)]
mod tests {
    use super::{line, lines, plain};

    #[test]
    fn an_id_with_odd_characters_ends_no_line_and_stays_one_of_its_own() {
        // RFC 3986, 2.1: an octet behind a % in capital digits
        assert_eq!(plain("order-hose_3.8"), "order-hose_3.8");
        assert_eq!(plain("hose\r\nBEGIN:VALARM"), "hose%0D%0ABEGIN%3AVALARM");
        assert_eq!(plain("h\u{f6}se; 50%"), "h%C3%B6se%3B%2050%25");
        assert_ne!(plain("a%20b"), plain("a b"));
    }

    #[test]
    fn a_text_has_no_control_characters_but_ends_of_lines() {
        assert_eq!(lines("one\r\ntwo\rthree\u{0}\u{7f}\tfour"), "one\ntwo\nthree\tfour");
        assert_eq!(line("Hose\r\nBEGIN:VEVENT"), "Hose BEGIN:VEVENT");
    }
}
