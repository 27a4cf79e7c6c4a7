//! Fan and shroud: air for a heat, the fan laws, room before the core (energy balance; common practice).

use uom::si::area::square_meter;
use uom::si::electric_current::ampere;
use uom::si::f64::{Area, ElectricCurrent, Length, MassDensity, Power, TemperatureInterval, VolumeRate};
use uom::si::length::millimeter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::power::{kilowatt, watt};
use uom::si::temperature_interval::kelvin;
use uom::si::volume_rate::{cubic_meter_per_hour, cubic_meter_per_second};

use crate::error::FigureError;
use crate::range::{RPM, Range};

/// Heat capacity of air at constant pressure, J/(kg·K): 1,006 near 40 C (handbooks).
pub const AIR_HEAT_CAPACITY: f64 = 1_006.0;
/// Share of the core a shroud must cover, common practice.
pub const SHROUD_COVER: f64 = 0.7;
/// First rush of an electric fan over its running current, lowest and highest, common practice.
pub const START_RUSH: (f64, f64) = (2.0, 2.5);

const HEAT: Range = Range::new(0.01, 10_000.0, "kW");
const AIR_DENSITY: Range = Range::new(0.1, 10.0, "kg/m3");
const RISE: Range = Range::new(0.5, 150.0, "K");
const AIR_FLOW: Range = Range::new(0.1, 1_000_000.0, "m3/h");
const FAN_POWER: Range = Range::new(0.000_1, 1_000.0, "kW");
const SPACE: Range = Range::new(0.0, 2_000.0, "mm");
const CORE: Range = Range::new(0.001, 10.0, "m2");
const COVERED: Range = Range::new(0.0, 10.0, "m2");
const RUNNING: Range = Range::new(0.01, 1_000.0, "A");

/// Air that takes up a heat: `Q / (rho cp dT)`.
///
/// * `heat`: 0.01 to 10,000 kW.
/// * `air_density`: before the core, 0.1 to 10 kg/m3, see [`crate::air::standard_air`].
/// * `rise`: of the air through the core, 0.5 to 150 K; at most the difference of coolant and outside air, in practice
///   half of it.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: energy balance.
pub fn air_for(
    heat: Power,
    air_density: MassDensity,
    rise: TemperatureInterval,
) -> Result<VolumeRate, FigureError> {
    HEAT.check("heat", heat.get::<kilowatt>())?;
    let density = AIR_DENSITY.check("air density", air_density.get::<kilogram_per_cubic_meter>())?;
    let rise = RISE.check("rise of the air temperature", rise.get::<kelvin>())?;
    Ok(VolumeRate::new::<cubic_meter_per_second>(heat.get::<watt>() / (density * AIR_HEAT_CAPACITY * rise)))
}

/// A fan at another speed: flow goes with the speed, power with its cube.
///
/// * `flow`: 0.1 to 1,000,000 m3/h; `power`: 0.1 W to 1,000 kW, both at `rpm`.
/// * `rpm`, `other_rpm`: 1 to 100,000 rev/min.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: fan laws (dimensional analysis).
pub fn at_other_speed(
    flow: VolumeRate,
    power: Power,
    rpm: f64,
    other_rpm: f64,
) -> Result<(VolumeRate, Power), FigureError> {
    AIR_FLOW.check("air flow", flow.get::<cubic_meter_per_hour>())?;
    FAN_POWER.check("fan power", power.get::<kilowatt>())?;
    let ratio = RPM.check("other fan speed", other_rpm)? / RPM.check("fan speed", rpm)?;
    Ok((flow * ratio, power * ratio.powi(3)))
}

/// How a fan is carried.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mount {
    /// On the water pump, with an engine on soft mounts: 20 mm to the core.
    Pump,
    /// An electric fan in its frame on the core: 12 mm from its motor to the pump nose.
    Core,
}

/// Room of a fan along its axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FanRoom {
    /// What is left; negative where they foul.
    pub left: Length,
    /// What should be left.
    pub wanted: Length,
    /// How far it falls short; zero where it does not.
    pub short_by: Length,
}

/// Room of a fan between core and pump nose: `space - depth`.
///
/// * `space`: from the core to the pump nose, 0 to 2,000 mm.
/// * `depth`: of the fan with its motor or spacer, 0 to 2,000 mm.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: geometry; the room wanted is common practice.
pub fn fan_room(space: Length, depth: Length, mount: Mount) -> Result<FanRoom, FigureError> {
    let space = SPACE.check("space before the core", space.get::<millimeter>())?;
    let depth = SPACE.check("fan depth", depth.get::<millimeter>())?;
    let wanted = match mount {
        Mount::Pump => 20.0,
        Mount::Core => 12.0,
    };
    let mm = Length::new::<millimeter>;
    let left = space - depth;
    Ok(FanRoom { left: mm(left), wanted: mm(wanted), short_by: mm((wanted - left).max(0.0)) })
}

/// Share of a core that its shroud, or the ring of a bare fan, covers, and whether that is enough.
///
/// * `core`: 0.001 to 10 m2.
/// * `covered`: 0 to 10 m2; more than the core counts as the core.
///
/// # Errors
/// [`FigureError`] if an argument is out of its range.
///
/// Source: common practice, see [`SHROUD_COVER`]; a bare fan draws through its own circle only.
pub fn shroud_cover(core: Area, covered: Area) -> Result<(f64, bool), FigureError> {
    let core = CORE.check("core area", core.get::<square_meter>())?;
    let covered = COVERED.check("covered area", covered.get::<square_meter>())?;
    let share = (covered / core).min(1.0);
    Ok((share, share >= SHROUD_COVER - 1e-9))
}

/// First rush of current of an electric fan, lowest and highest.
///
/// * `running`: 0.01 to 1,000 A.
///
/// # Errors
/// [`FigureError`] if the current is out of its range.
///
/// Source: common practice, see [`START_RUSH`].
pub fn start_current(running: ElectricCurrent) -> Result<(ElectricCurrent, ElectricCurrent), FigureError> {
    RUNNING.check("running current", running.get::<ampere>())?;
    Ok((running * START_RUSH.0, running * START_RUSH.1))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::{REFUSED, close, refuses, sound};

    fn mm(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    /// m3/h
    fn air(kw: f64, density: f64, rise: f64) -> Result<f64, FigureError> {
        let density = MassDensity::new::<kilogram_per_cubic_meter>(density);
        air_for(Power::new::<kilowatt>(kw), density, TemperatureInterval::new::<kelvin>(rise))
            .map(|q| q.get::<cubic_meter_per_hour>())
    }

    fn law(flow: f64, kw: f64, rpm: f64, other: f64) -> Result<(f64, f64), FigureError> {
        at_other_speed(VolumeRate::new::<cubic_meter_per_hour>(flow), Power::new::<kilowatt>(kw), rpm, other)
            .map(|(q, p)| (q.get::<cubic_meter_per_hour>(), p.get::<kilowatt>()))
    }

    fn room(space: f64, depth: f64, mount: Mount) -> Result<[f64; 3], FigureError> {
        fan_room(mm(space), mm(depth), mount)
            .map(|r| [r.left, r.wanted, r.short_by].map(|l| l.get::<millimeter>()))
    }

    #[test]
    fn air_through_the_core() {
        // energy balance by hand: 45 kW, 1.225 kg/m3, 30 K: 45,000 / (1.225 * 1,006 * 30) = 1.2172 m3/s
        close(air(45.0, 1.225, 30.0), 1.217_2 * 3600.0, 1e-4);
    }

    #[test]
    fn fan_laws() {
        // dimensional analysis: half the speed, half the flow, an eighth of the power
        close(law(3000.0, 0.8, 2400.0, 1200.0).map(|f| f.0), 1500.0, 1e-12);
        close(law(3000.0, 0.8, 2400.0, 1200.0).map(|f| f.1), 0.1, 1e-12);
    }

    #[test]
    fn trade_rooms() {
        // an example vehicle: 90 mm and a slim fan of 65 mm leave 25 mm, one of 85 mm leaves 5; and 62 - 57 = 5 < 12
        assert_eq!(room(90.0, 65.0, Mount::Core), Ok([25.0, 12.0, 0.0]));
        assert_eq!(room(90.0, 85.0, Mount::Core), Ok([5.0, 12.0, 7.0]));
        assert_eq!(room(62.0, 57.0, Mount::Core), Ok([5.0, 12.0, 7.0]));
        // an example vehicle: 20 mm with a rigid fan
        assert_eq!(room(60.0, 45.0, Mount::Pump), Ok([15.0, 20.0, 5.0]));
        assert!(room(50.0, 60.0, Mount::Core).is_ok_and(|r| r[0] < 0.0));
    }

    #[test]
    fn trade_shroud_and_start() {
        // common practice: shroud over at least 70 % of the core; start 2 to 2.5 times
        let cover = |core: f64, covered: f64| {
            shroud_cover(Area::new::<square_meter>(core), Area::new::<square_meter>(covered))
        };
        assert_eq!(cover(0.25, 0.1875), Ok((0.75, true)));
        assert!(cover(0.2, 0.14).is_ok_and(|(_, enough)| enough));
        assert!(cover(0.2, 0.1).is_ok_and(|(_, enough)| !enough));
        assert_eq!(cover(0.2, 0.3), Ok((1.0, true)));
        let start = start_current(ElectricCurrent::new::<ampere>(13.0));
        close(start.map(|s| s.0.get::<ampere>()), 26.0, 1e-12);
        close(start.map(|s| s.1.get::<ampere>()), 32.5, 1e-12);
        for bad in REFUSED {
            refuses(cover(bad, 0.1), "core area");
            refuses(start_current(ElectricCurrent::new::<ampere>(bad)), "running current");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0] {
            refuses(cover(0.2, bad), "covered area");
        }
    }

    #[test]
    fn refuses_each_argument_by_name() {
        for bad in REFUSED {
            refuses(air(bad, 1.2, 30.0), "heat");
            refuses(air(45.0, bad, 30.0), "air density");
            refuses(air(45.0, 1.2, bad), "rise of the air temperature");
            refuses(law(bad, 0.8, 2400.0, 1200.0), "air flow");
            refuses(law(3000.0, bad, 2400.0, 1200.0), "fan power");
            refuses(law(3000.0, 0.8, bad, 1200.0), "fan speed");
            refuses(law(3000.0, 0.8, 2400.0, bad), "other fan speed");
        }
        for bad in [f64::NAN, f64::INFINITY, -1.0, 1e5] {
            refuses(room(bad, 60.0, Mount::Core), "space before the core");
            refuses(room(60.0, bad, Mount::Core), "fan depth");
        }
    }

    proptest! {
        #[test]
        fn speeds_there_and_back(flow in 100.0..9e3, kw in 0.01..5.0, a in 800.0..2400.0, b in 800.0..2400.0) {
            let (q, p) = law(flow, kw, a, b).unwrap_or_default();
            let (q, p) = law(q, p, b, a).unwrap_or_default();
            prop_assert!((q / flow - 1.0).abs() < 1e-9 && (p / kw - 1.0).abs() < 1e-9);
        }

        #[test]
        fn any_numbers_are_refused_or_give_a_sound_figure(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>()) {
            prop_assert!(sound(air(a, b, c)));
            prop_assert!(law(a, b, c, d).map_or(true, |f| f.0.is_finite() && f.1.is_finite()));
            prop_assert!(room(a, b, Mount::Pump).map_or(true, |r| r.iter().all(|v| v.is_finite())));
        }
    }
}
