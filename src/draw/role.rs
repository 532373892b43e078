//! What a mark stands for, and how that looks: the one table of line widths, dashes, fills and sizes of text.

/// What a mark stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// What is around all.
    Frame,
    /// A line between fields of the title block.
    Rule,
    /// The board that a line starts at.
    Board,
    /// A device or a board at a line.
    Device,
    /// A place without a device.
    Bare,
    /// A cable.
    Cable,
    /// Where a cable goes on a plan: broken, so that it is no wall.
    Way,
    /// A single conductor, or a short wire between terminals.
    Conductor,
    /// What joins two places, of which there is no cable in the spec.
    Unwritten,
    /// A way out of the house.
    Exit,
    /// What feeds a device.
    Supply,
    /// A place to measure at.
    Meter,
    /// A level of the house.
    Level,
    /// A room.
    Room,
    /// A conductor with nothing to do.
    Idle,
    /// The label of a cable at its line.
    Flag,
    /// What is printed at a terminal.
    Marking,
    /// The letters of a conductor's colour.
    Letters,
    /// What a conductor does.
    Purpose,
    /// What a cable or a lead is called.
    Name,
    /// A resistor, or a fuse.
    Resistor,
    /// A colour band of a resistor.
    Band,
    /// The sign of a battery, a transformer, the earth.
    Symbol,
    /// What joins a mark to the words that belong to it.
    Pointer,
    /// The blade of a contact that is closed at rest.
    Closed,
    /// The blade of a contact that is open at rest.
    Open,
    /// What a blade rests on, and the end of a line that leads nowhere.
    Stop,
    /// A terminal.
    Terminal,
    /// A figure that must be kept.
    Limit,
    /// A figure as it goes over time.
    Course,
    /// Lines of a scale.
    Grid,
    /// What leads from words to their place, and to a further drawing.
    Leader,
    /// A point where cables meet.
    Joint,
    /// A wall.
    Wall,
    /// The edge of a place in open air.
    OpenAir,
    /// Where a wall is open.
    Gap,
    /// A door's leaf, or what an opening has in it.
    Opening,
    /// The frame of an opening that is closed.
    Frames,
    /// How far a detector reaches.
    Coverage,
    /// An arrow at words.
    Tag,
    /// Where a leader ends in a room.
    LeaderEnd,
    /// What a room or another part of a drawing is called.
    Heading,
    /// What a drawing is called, in its title block.
    Title,
    /// What else its title block says.
    Field,
    /// Words beside or in a mark.
    Label,
    /// The value of a resistor.
    Value,
    /// Where something is.
    Place,
    /// The edge of a label on its sheet: on the screen only.
    Cell,
    /// The first line of a cable's label.
    CableName,
    /// The second line of a cable's label.
    CableEnd,
    /// The dark squares of a code.
    Code,
}

/// How a mark looks. Lengths are millimetres; everything is black on white.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Style {
    /// Width of its line; 0 where it has none.
    pub(crate) line: f64,
    /// Dash and gap of its line.
    pub(crate) dash: Option<(f64, f64)>,
    /// What it is filled with.
    pub(crate) fill: Fill,
    /// Size of its text, whose capitals are 0.725 of it high.
    pub(crate) text: f64,
    /// Whether its text leans.
    pub(crate) leans: bool,
}

/// What is inside an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fill {
    /// Nothing.
    None,
    /// Paper.
    White,
    /// Ink.
    Black,
}

/// Its capitals are 2.3 mm high, the smallest lettering that stays legible on a print in a dark cupboard.
const TEXT: f64 = 3.2;

impl Role {
    /// What the role is called in SVG: how a mark is known when a drawing is read back.
    pub(crate) fn name(self) -> String {
        format!("{self:?}").to_lowercase()
    }

    /// How marks of this role look.
    pub(crate) fn style(self) -> Style {
        match self {
            // The only one with a ground: a picture may be looked at on a dark page.
            Self::Frame => Style { fill: Fill::White, ..line(0.25) },
            Self::Rule => line(0.25),
            Self::Board => line(0.8),
            Self::Device | Self::Resistor | Self::Symbol | Self::Closed | Self::Open | Self::Stop => line(0.35),
            Self::Exit => Style { fill: Fill::Black, ..line(0.35) },
            Self::Supply => Style { dash: Some((3.0, 0.8)), ..line(0.35) },
            Self::Meter | Self::Unwritten => Style { dash: Some((0.5, 0.7)), ..line(0.35) },
            Self::Level => line(0.5),
            Self::Room | Self::Leader => line(0.18),
            Self::Flag => line(0.25),
            Self::Band => line(0.1),
            Self::Idle => Style { dash: Some((1.2, 0.8)), ..line(0.25) },
            Self::Pointer => Style { dash: Some((0.5, 0.8)), ..line(0.13) },
            Self::Terminal => Style { fill: Fill::White, ..line(0.35) },
            Self::Grid => line(0.18),
            Self::Course => line(0.35),
            Self::Limit => line(0.7),
            Self::Bare => Style { dash: Some((1.6, 1.0)), ..line(0.25) },
            Self::Cable => line(0.9),
            Self::Way => Style { dash: Some((3.0, 1.2)), ..line(0.9) },
            Self::Conductor => line(0.4),
            Self::Joint | Self::LeaderEnd => Style { fill: Fill::Black, ..line(0.0) },
            Self::Wall => line(0.7),
            Self::OpenAir => Style { dash: Some((2.4, 1.2)), ..line(0.25) },
            Self::Gap => Style { fill: Fill::White, ..line(0.0) },
            Self::Opening | Self::Tag => line(0.25),
            Self::Frames => Style { fill: Fill::White, ..line(0.25) },
            Self::Coverage => Style { dash: Some((0.8, 0.8)), ..line(0.18) },
            Self::Heading | Self::Title => Style { text: 4.2, ..line(0.0) },
            Self::Label | Self::Value | Self::Field | Self::Marking | Self::Letters | Self::Purpose | Self::Name => {
                line(0.0)
            }
            Self::Place => Style { leans: true, ..line(0.0) },
            Self::Cell => line(0.1),
            Self::CableName => Style { text: 4.2, ..line(0.0) },
            Self::Code => Style { fill: Fill::Black, ..line(0.0) },
            // Its capitals are 2.5 mm high: a wrap is read in its curve.
            Self::CableEnd => Style { text: 3.5, ..line(0.0) },
        }
    }
}

fn line(width: f64) -> Style {
    Style { line: width, dash: None, fill: Fill::None, text: TEXT, leans: false }
}
