//! Steering after a lift: drag-link angle, bump steer, caster, and the wedge that brings it back.

mod caster;
mod links;

pub use caster::{
    ShackleEnd, SpringPlace, ThickEnd, Wedge, rake_caster_change, shackle_caster_change, wedge_thickness,
    wedge_wanted,
};
pub use links::{Arc, bump_steer, drop_arm_wanted, link_angle, link_shortening};
