//! Values and how two ports agree, read straight from the texts the generator writes.

use knockon_core::library::{LibraryFile, Port, Role, Rule};

/// Three answers, worse later.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// It holds.
    Holds,
    /// Not known.
    Open,
    /// It does not.
    Broken,
}

/// Two that both give or both take.
pub fn same_side(a: &Port, b: &Port) -> bool {
    matches!((a.role, b.role), (Role::Give, Role::Give) | (Role::Take, Role::Take))
}

/// "3 to 6 psi" or "5 A": from and to, in the unit as written.
pub fn amount(text: &str) -> (f64, f64) {
    let text = text.strip_prefix("set ").unwrap_or(text);
    let first = |t: &str| t.trim().split(' ').next().and_then(|n| n.parse::<f64>().ok()).unwrap_or(f64::NAN);
    match text.split_once(" to ") {
        Some((low, high)) => (first(low), first(high)),
        None => (first(text), first(text)),
    }
}

/// "100 mm ±8 mm": least and most.
pub fn number(text: &str) -> (f64, f64) {
    let (middle, tolerance) = text.split_once('±').unwrap_or((text, "0 mm"));
    let (middle, tolerance) = (amount(middle).0, amount(tolerance).0);
    (middle - tolerance, middle + tolerance)
}

/// How two ports of one joint agree, all fields together.
pub fn agree(lib: &LibraryFile, a: &Port, b: &Port) -> Verdict {
    if a.port_type != b.port_type || same_side(a, b) { Verdict::Broken } else { fields(lib, a, b) }
}

/// The fields of two ports of one type, whoever gives.
pub fn fields(lib: &LibraryFile, a: &Port, b: &Port) -> Verdict {
    let (give, take) = if a.role == Role::Take || b.role == Role::Give { (b, a) } else { (a, b) };
    let mut worst = Verdict::Holds;
    for (name, def) in &lib.port_types[&a.port_type].fields {
        let text = |port: &Port| port.fields[name].as_str().unwrap_or("").to_owned();
        worst = worst.max(field(def.rule, &text(give), &text(take)));
    }
    worst
}

/// The fields of two ports that are open, each with its texts in the first and in the second.
pub fn open_fields(lib: &LibraryFile, a: &Port, b: &Port) -> Vec<(String, [String; 2])> {
    let give_first = !(a.role == Role::Take || b.role == Role::Give);
    let defs = lib.port_types[&a.port_type].fields.iter();
    defs.filter_map(|(name, def)| {
        let texts = [a, b].map(|port| port.fields[name].as_str().unwrap_or("").to_owned());
        let (give, take) = if give_first { (&texts[0], &texts[1]) } else { (&texts[1], &texts[0]) };
        (field(def.rule, give, take) == Verdict::Open).then(|| (name.clone(), texts))
    })
    .collect()
}

fn field(rule: Rule, give: &str, take: &str) -> Verdict {
    let sure = |yes: bool| if yes { Verdict::Holds } else { Verdict::Broken };
    if give == "any" || take == "any" {
        return Verdict::Holds;
    }
    if give.starts_with("unknown") || take.starts_with("unknown") {
        return Verdict::Open;
    }
    match rule {
        Rule::Mates => sure(give != take),
        Rule::Inside => {
            let ((low, high), (least, most)) = (amount(give), amount(take));
            let overlap = high >= least && most >= low;
            let inside = low >= least && high <= most;
            sure(if give.starts_with("set") || take.starts_with("set") { overlap } else { inside })
        }
        Rule::AtLeast => {
            let ((low, high), (least, most)) = (number(give), number(take));
            if low >= most {
                Verdict::Holds
            } else if high < least {
                Verdict::Broken
            } else {
                Verdict::Open
            }
        }
        _ => {
            // equal within 0.25 mm, whatever each could be inside its own tolerance
            let ((a_low, a_high), (b_low, b_high)) = (number(give), number(take));
            let far = (a_high - b_low).max(b_high - a_low);
            let near = (a_low - b_high).max(b_low - a_high).max(0.0);
            if far <= 0.25 + 1e-9 {
                Verdict::Holds
            } else if near > 0.25 + 1e-9 {
                Verdict::Broken
            } else {
                Verdict::Open
            }
        }
    }
}
