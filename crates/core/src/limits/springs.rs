//! Limits of springs and dampers: damper at bump and droop, U-bolt, ride height.

use knockon_figures::gap::GapRule;
use knockon_figures::springs::{
    Damper, DamperFit, DamperMount, PackAtLoad, SpringRate, UBoltStack, damper_fit, ride_height_change,
    u_bolt,
};
use uom::si::surface_tension::newton_per_meter;

use super::Inputs;
use super::entry::{Answer, Entry, Input, close, either, less, more, one, qty, told};
use crate::phrase;
use crate::units::Dimension::{Angle, Force, Length, Ratio, Stiffness};

pub(super) const ALL: &[Entry] = &[
    Entry {
        name: "damper-at-bump",
        inputs: MOUNT,
        levers: &[
            less("closed", "closed length"),
            less("bump", "bump travel, by a longer stop"),
            more("spacing", "between the mounts, by a raised bracket"),
        ],
        work: bump,
    },
    Entry {
        name: "damper-at-droop",
        inputs: MOUNT,
        levers: &[more("open", "open length"), less("droop", "droop, by a strap")],
        work: droop,
    },
    Entry {
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
    Entry {
        name: "spring-height",
        inputs: &[
            one("least", Length),
            one("load", Force),
            one("most", Length),
            one("new-arch", Length),
            one("new-rate", Stiffness),
            one("old-arch", Length),
            one("old-rate", Stiffness),
        ],
        levers: &[either("new-arch", "free arch"), either("new-rate", "spring rate")],
        work: height,
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

/// `(new arch - old arch) + load (1 / old rate - 1 / new rate)` (linear springs).
fn height(i: &Inputs<'_>) -> Answer {
    let pack = |arch: &str, rate: &str| {
        let rate = SpringRate::new::<newton_per_meter>(i.number(rate)?);
        Ok::<_, String>(PackAtLoad { free_arch: i.length(arch)?, rate })
    };
    let (old, new) = (pack("old-arch", "old-rate")?, pack("new-arch", "new-rate")?);
    let higher = told(ride_height_change(old, new, i.force("load")?))?.value;
    let (least, most) = (i.number("least")?, i.number("most")?);
    let text = || {
        let near = if higher < least { least } else { most };
        let wanted = qty(least, Length).beside(higher).to(most);
        phrase!["it stands ", qty(higher, Length).beside(near), " higher, ", wanted, " wanted"]
    };
    Ok((higher >= least - 1e-9 && higher <= most + 1e-9, i.say(text)))
}
