//! What is due and on which day: the air of each place, the days a bud feels there, each tree's window, and what
//! a move would change; it proposes and writes nothing.

pub mod advice;
pub mod air;
pub mod autumn;
pub mod bench;
pub mod candles;
pub mod cases;
pub mod cold;
pub mod coming;
pub mod cooling;
pub mod flowers;
pub mod ground;
pub mod leaves;
pub mod limbs;
pub mod nights;
pub mod odd_hours;
pub mod potting;
pub mod repot;
pub mod roots;
pub mod second;
pub mod shelf;
pub mod taught;
pub mod tonight;
pub mod watering;
pub mod what_if;
pub mod window;
pub mod work_months;
