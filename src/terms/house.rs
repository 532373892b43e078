//! Words about the house: rooms, walls, what a cable passes, and which limits hold there.

use super::Word;

words!(
    /// What a room is used for, as far as wiring cares.
    RoomKind {
        Living = "living": "a room to live in",
        Bedroom = "bedroom": "a room to sleep in",
        Kitchen = "kitchen": "cooking",
        Bathroom = "bathroom": "a bath or shower",
        Hall = "hall": "a hall or corridor",
        Stair = "stair": "a stair",
        Attic = "attic": "under the roof: hot and cold",
        Cellar = "cellar": "below ground",
        Crawlspace = "crawlspace": "too low to stand in",
        Garage = "garage": "vehicles and fuel",
        Utility = "utility": "boiler, laundry, plant",
        Workshop = "workshop": "tools and dust",
        Outdoors = "outdoors": "open air",
    }
);

impl RoomKind {
    /// True for rooms that people walk through at home.
    pub(crate) fn is_lived_in(self) -> bool {
        match self {
            Self::Living | Self::Bedroom | Self::Kitchen | Self::Bathroom | Self::Hall | Self::Stair => true,
            Self::Attic
            | Self::Cellar
            | Self::Crawlspace
            | Self::Garage
            | Self::Utility
            | Self::Workshop
            | Self::Outdoors => false,
        }
    }
}

words!(
    /// A side of a room on the plan.
    Wall {
        North = "north": "the plan's upper side",
        East = "east": "the plan's right side",
        South = "south": "the plan's lower side",
        West = "west": "the plan's left side",
    }
);

words!(
    /// Where something looks, as a direction of the plan.
    Bearing {
        North = "north": "to the plan's upper side",
        NorthEast = "north-east": "to its upper right corner",
        East = "east": "to its right side",
        SouthEast = "south-east": "to its lower right corner",
        South = "south": "to its lower side",
        SouthWest = "south-west": "to its lower left corner",
        West = "west": "to its left side",
        NorthWest = "north-west": "to its upper left corner",
    }
);

words!(
    /// What the house is built of.
    Framing {
        TimberStud = "timber-stud": "timber studs and joists",
        Masonry = "masonry": "solid or cavity walls",
        Mixed = "mixed": "some of each",
    }
);

words!(
    /// What a run passes on its way.
    Passage {
        Attic = "attic": "a space under the roof",
        Plenum = "plenum": "a space that moves air for the house",
        Riser = "riser": "a shaft from floor to floor",
        Outdoors = "outdoors": "open air",
        Underground = "underground": "buried",
        Mains = "mains": "beside mains cable for more than a crossing",
        Stud = "stud": "bored or notched studs",
        Joist = "joist": "bored or notched joists",
        FireWall = "fire-wall": "a wall or floor that holds back fire",
    }
);

words!(
    /// Where a cable's sheet lets it lie.
    MadeFor {
        Indoors = "indoors": "dry rooms",
        Outdoors = "outdoors": "open air too",
        Underground = "underground": "wet ground too, and open air",
    }
);

words!(
    /// Where a run starts.
    Start {
        Here = "here": "where the previous run of the chain ended",
        Board = "board": "at the board again: joined to the previous run there",
    }
);

words!(
    /// Unit of length that is printed.
    LengthWord {
        Feet = "ft": "feet",
        Metres = "m": "metres",
    }
);

words!(
    /// A sheet of labels by its geometry.
    LabelGrid {
        Letter3By10 = "3x10-letter": "3 labels across and 10 down on Letter, 66.675 by 25.4 mm each",
        A43By7 = "3x7-a4": "3 labels across and 7 down on A4, 63.5 by 38.1 mm each",
    }
);

words!(
    /// Size of paper.
    PaperSize {
        Letter = "letter": "215.9 by 279.4 mm",
        A4 = "a4": "210 by 297 mm",
    }
);

words!(
    /// The set of published limits.
    Profile {
        UsHousehold = "us-household": "United States, household",
        EuGrade1 = "eu-grade-1": "Europe, grade 1",
        EuGrade2 = "eu-grade-2": "Europe, grade 2",
        EuGrade3 = "eu-grade-3": "Europe, grade 3",
        Practice = "practice": "common practice only",
    }
);
