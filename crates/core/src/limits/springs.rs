//! Limits of springs and dampers: damper at bump and droop, U-bolt, ride height.

use knockon_figures::gap::GapRule;
use knockon_figures::springs::{Damper, DamperFit, DamperMount, UBoltStack, damper_fit, u_bolt};

use super::Inputs;
use super::declared::{Declared, Holds};
use super::entry::{Answer, Input, Own, close, either, less, more, one, qty, told};
use crate::phrase;
use crate::units::Dimension::{Angle, Length, Ratio};

/// Figures held to a bound.
pub(super) const DECLARED: &[Declared] = &[Declared {
    name: "spring-height",
    figure: "spring-height",
    called: &[],
    fixed: &[],
    asks: &[one("least", Length), one("most", Length)],
    holds: Holds::Between("stands higher by", "least", "most"),
    says: "it stands {stands higher by} higher, {wanted} wanted",
    levers: &[either("new-arch", "free arch"), either("new-rate", "spring rate")],
}];

pub(super) const ALL: &[Own] = &[
    Own {
        name: "damper-at-bump",
        inputs: MOUNT,
        levers: &[
            less("closed", "closed length"),
            less("bump", "bump travel, by a longer stop"),
            more("spacing", "between the mounts, by a raised bracket"),
        ],
        work: bump,
    },
    Own {
        name: "damper-at-droop",
        inputs: MOUNT,
        levers: &[more("open", "open length"), less("droop", "droop, by a strap")],
        work: droop,
    },
    Own {
        name: "u-bolt-leg",
        inputs: &[
            one("axle-tube", Length),
            one("leg", Length),
            one("nut", Length),
            one("pack", Length),
            one("perch", Length),
            one("pitch", Length),
            one("plate", Length),
            one("threads-out", Ratio),
            one("washer", Length),
        ],
        levers: &[more("leg", "leg of the U-bolt")],
        work: leg,
    },
];

const MOUNT: &[Input] = &[
    one("bump", Length),
    one("closed", Length),
    one("droop", Length),
    one("lean", Angle),
    one("open", Length),
    one("reserve", Length),
    one("spacing", Length),
];

/// Eyes apart `sqrt((s cos lean + x)^2 + (s sin lean)^2)` at travel `x` (geometry; the reserve is common practice).
fn damper(i: &Inputs<'_>) -> Result<DamperFit, String> {
    let mount = DamperMount {
        spacing: i.length("spacing")?,
        lean: i.angle("lean")?,
        bump: i.length("bump")?,
        droop: i.length("droop")?,
    };
    let damper = Damper { open: i.length("open")?, closed: i.length("closed")? };
    told(damper_fit(mount, damper, GapRule::exact(i.length("reserve")?)))
}

fn bump(i: &Inputs<'_>) -> Answer {
    let gap = damper(i)?.at_bump;
    let text = || {
        let (left, want) = (gap.found.value, gap.rule.wanted.value);
        phrase![
            qty(left, Length).beside(want),
            " is left to push in at full bump, at least ",
            qty(want, Length).beside(left),
            " wanted"
        ]
    };
    Ok((gap.holds(), i.say(text)))
}

fn droop(i: &Inputs<'_>) -> Answer {
    let gap = damper(i)?.at_droop;
    let text = || {
        let (left, want) = (gap.found.value, gap.rule.wanted.value);
        phrase![
            qty(left, Length).beside(want),
            " is left to pull out at full droop, at least ",
            qty(want, Length).beside(left),
            " wanted"
        ]
    };
    Ok((gap.holds(), i.say(text)))
}

/// `leg = tube + perch + pack + plate + washer + nut + threads out x pitch` (geometry; three threads out is common
/// practice).
fn leg(i: &Inputs<'_>) -> Answer {
    let stack = UBoltStack {
        axle_tube: i.length("axle-tube")?,
        perch: i.length("perch")?,
        pack: i.length("pack")?,
        plate: i.length("plate")?,
        washer: i.length("washer")?,
        nut: i.length("nut")?,
        pitch: i.length("pitch")?,
    };
    let (want, have) = (told(u_bolt(stack, i.number("threads-out")?))?.leg.value, i.number("leg")?);
    let text = || {
        let (want, have) = (qty(want, Length).beside(have), qty(have, Length).beside(want));
        phrase!["the stack wants a leg of ", want, ", the U-bolt has ", have]
    };
    Ok((have >= want - close(have, want), i.say(text)))
}
