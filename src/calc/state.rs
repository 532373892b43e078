//! The states that a loop can be in.

use crate::base::Id;
use crate::model::{Device, Run};

/// One way a loop can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// Everything at rest.
    Normal,
    /// One contact in alarm, all others at rest.
    Alarm(Id<Device>),
    /// So many contacts in alarm at once; the spread is over all choices of them.
    Alarms(usize),
    /// Every contact in alarm.
    AllAlarms,
    /// A cover open.
    Cover(Id<Device>),
    /// A relay that watches the detectors' supply has let go.
    SupplyLost(Id<Device>),
    /// A run cut: one conductor or both.
    Cut(Id<Run>),
    /// A run's conductors touching at its near end.
    ShortNear(Id<Run>),
    /// A run's conductors touching at its far end.
    ShortFar(Id<Run>),
}
