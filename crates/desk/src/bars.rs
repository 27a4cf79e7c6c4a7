//! What stands over and under every page: the bar on top, the line of the next act, the running strip, what is under way.

pub mod first_line;
pub mod next_act;
pub mod strip;
pub mod top;
pub mod under_way;
