//! Words about where a detector is: what is near it, and what it looks at.

use super::Word;

words!(
    /// What a detector of smoke, heat or carbon monoxide may be too near to, or must be near to.
    Nearby {
        Cooking = "cooking" / "a cooking appliance": "a cooking appliance",
        BathroomDoor = "bathroom-door" / "the door of a bathroom": "the door of a bathroom with a tub or shower",
        BedroomDoor = "bedroom-door" / "a bedroom's door": "a bedroom's door, along the path that one walks",
        SupplyRegister = "supply-register" / "a supply register": "a supply register of heating or cooling air",
        Fan = "fan" / "a ceiling fan": "the blade tip of a ceiling fan",
        Ceiling = "ceiling" / "the ceiling": "of a detector on a wall, the ceiling above its top",
    }
);

words!(
    /// What a motion detector looks at that may mislead it.
    Faces {
        Sun = "sun" / "a window with sun": "a window or glass door that the sun comes in at",
        Heater = "heater" / "a heater": "a heater, a stove or a supply register",
        Stair = "stair" / "a stair": "a stair that people or animals come up or down",
        Curtain = "curtain" / "what moves": "a curtain, a plant or something else that moves in a draught",
    }
);
