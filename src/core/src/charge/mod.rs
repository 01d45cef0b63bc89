//! Charging: how long, how much, and what the supply gives for it; storage charge.
//!
//! Formula   the cell as a source U(s) behind a resistance R_c(s): constant current I = least of charger, pack rating and power
//!           (from P = n I (U + I R_c), greater root), until U + I R_c stands at the full voltage; then I = (U_full − U)/R_c
//!           until the cut-off; each five hundredth of the charge in closed form: Q/I, then R (dQ/dU) ln(I_start/I_end)
//! Units     SI inside; states of charge as shares of the present capacity
//! Source    constant current, constant voltage as every maker's data sheet has it; the circuit is `cell`'s
//! Valid     25 °C or as the pack's temperature says; C rates up to about 2, where one settled resistance serves
//! Checked   closed form on one straight piece of the curve with constant resistance; whole charges of the Ai et al. 2020 cell by an
//!           open model library within 3 % (tests/references/charge)
//! Assumes   over an hour a cell shows a settled resistance, 2.4 times the one of some seconds under load: chosen on one charge
//!           of that model at half a C, the others held out. Packs on one charger share its power evenly to the end

mod drawn;
pub mod params;
mod storage;
mod taper;

pub use drawn::charge;
pub use params::{ChargeCourse, ChargeRule, ChargeSettings, Charger, ChargingPack};
pub use storage::{STORAGE_VOLTAGE, StorageNeed, storage_charge};
