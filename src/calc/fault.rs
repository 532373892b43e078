//! What would explain a reading: one single fault of a loop, with its figures. Found in [`super::diagnose`].

use super::meter::Measured;
use super::spread::Spread;
use crate::base::Id;
use crate::model::{Device, Run};
use crate::quantity::Metres;

/// What would explain a reading that the loop should not give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fault {
    /// The conductors of a run touch.
    Short {
        /// The run.
        run: Id<Run>,
        /// Distance from the run's near end in metres, the least and the most by what its conductors may have and the meter may be
        /// wrong; `None` where the tolerances on the way hide it: resistors may be off by more than the whole run has.
        along: Option<Spread>,
        /// Distance of that place from the board along the cables; of the near end where there is none.
        from_board: Metres,
    },
    /// The two leads touch before they reach a cable, or every cable behind them is shorted: no single one gives so few ohms.
    LeadsTouch,
    /// The conductors of a run touch, with up to so many ohms between them: a staple or a nail is no bare joint.
    Touch(Id<Run>, f64),
    /// A contact that closes in alarm is closed: the loop reads so many ohms more than by the figures, or less.
    Actuated(Id<Device>, f64),
    /// A leak of so many ohms across the leads.
    Leakage(f64),
    /// So many ohms too much in series.
    InSeries(f64),
    /// A resistor of about so many ohms in a loop that has none by the spec: one that was left there.
    LeftIn(f64),
    /// No connection anywhere, though no cable is cut and no contact open: a joint that came apart, or a resistor that broke.
    Open,
    /// A leak of so many ohms, and behind it no connection.
    OpenWithLeakage(f64),
    /// Another resistor than that of the spec.
    Resistor {
        /// Its position in the loop.
        position: usize,
        /// The value of the spec in ohm.
        fitted: f64,
        /// The value that would give the reading, in ohm.
        needed: f64,
        /// The preferred value of E24 that is nearest to it by ratio, in ohm.
        preferred: f64,
    },
    /// A resistor of the spec is not in what was measured: it is bridged, or the leads were lifted behind it.
    LeftOut {
        /// Its position in the loop.
        position: usize,
        /// Its value in ohm.
        fitted: f64,
    },
    /// A second resistor with one of the spec.
    Second {
        /// The position of the one in the spec.
        position: usize,
        /// Its value in ohm.
        fitted: f64,
        /// The value of the second one in ohm: the same, or another that the board's loops have.
        second: f64,
        /// True where they are side by side, false for one after the other.
        parallel: bool,
        /// What both are together.
        ohms: Spread,
    },
    /// A contact that was worked is not where that should have put it.
    Contact {
        /// Its device.
        device: Id<Device>,
        /// True for the contact of its cover.
        cover: bool,
        /// True where it should be closed.
        closed: bool,
        /// The ohms across it that would give the reading.
        ohms: f64,
    },
    /// The loop is right with the leads off: the screws of its input, or the board.
    AtBoard,
    /// More volts than the loop can have from its board, which gives so many at most.
    OtherVoltage(f64),
    /// A reading in another unit than the one that was written.
    Mistaken {
        /// In ohm or volt, as it was probably meant.
        meant: Measured,
        /// The state that it then is, by its position among the loop's readings.
        state: usize,
    },
}
