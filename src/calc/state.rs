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

/// What has happened to a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Damage {
    /// One conductor or both are cut.
    Cut,
    /// Its conductors touch at the near end.
    ShortNear,
    /// Its conductors touch at the far end.
    ShortFar,
}

impl State {
    /// The run that is damaged, and how.
    pub(crate) fn damage(self) -> Option<(Id<Run>, Damage)> {
        match self {
            Self::Cut(run) => Some((run, Damage::Cut)),
            Self::ShortNear(run) => Some((run, Damage::ShortNear)),
            Self::ShortFar(run) => Some((run, Damage::ShortFar)),
            Self::Normal
            | Self::Alarm(_)
            | Self::Alarms(_)
            | Self::AllAlarms
            | Self::Cover(_)
            | Self::SupplyLost(_) => None,
        }
    }

    /// True where something is in alarm.
    pub(crate) fn is_alarm(self) -> bool {
        matches!(self, Self::Alarm(_) | Self::Alarms(_) | Self::AllAlarms)
    }

    /// True where a device is in alarm, for certain.
    pub(crate) fn is_alarm_of(self, device: Id<Device>) -> bool {
        self == Self::AllAlarms || self == Self::Alarm(device)
    }

    /// What has happened to a run.
    pub(crate) fn damage_of(self, run: Id<Run>) -> Option<Damage> {
        self.damage().filter(|(damaged, _)| *damaged == run).map(|(_, damage)| damage)
    }
}
