//! Springs: leaf packs, ride frequency and height, dampers, U-bolts.

mod coil;
mod damper_travel;
mod dampers;
mod leaf;
mod ride;
mod u_bolts;

pub use coil::coil_rate;
pub use damper_travel::{DamperAt, damper_at, stop_wanted};
pub use dampers::{
    Damper, DamperFit, DamperMount, DamperWanted, damper_fit, damper_motion_ratio, damper_wanted,
    wheel_rate_factor,
};
pub use leaf::{Leaf, LeafPack, LeafRate, STEEL_MODULUS, SpringRate, leaf_rate, leaf_stress};
pub use ride::{
    PackAtLoad, longer_shackle, ride_frequency, ride_frequency_of, ride_height_change, shackle_lift,
    static_deflection,
};
pub use u_bolts::{UBolt, UBoltStack, u_bolt};
