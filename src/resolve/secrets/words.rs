//! The words by which a secret is told from the numbers of the trade. All lower case.

use super::names::Sort::{self, Account, Code, Phrase};
use super::names::Weight::{self, Role, Thing, Use};

/// Words that name a secret, and what they name. Between two of them may stand a hyphen, a point or a blank.
pub const SECRETS: &[(&[&str], Sort)] = &[
    (&["passcode"], Code),
    (&["pass", "code"], Code),
    (&["pin"], Code),
    (&["pin", "code"], Code),
    (&["pincode"], Code),
    (&["keycode"], Code),
    (&["duress"], Code),
    (&["safe", "combination"], Code),
    (&["lock", "combination"], Code),
    (&["code"], Code),
    (&["account"], Account),
    (&["acct"], Account),
    (&["a", "/", "c"], Account),
    (&["csid"], Account),
    (&["acc", "no"], Account),
    (&["subscriber"], Account),
    (&["customer"], Account),
    (&["client"], Account),
    (&["contract"], Account),
    (&["password"], Phrase),
    (&["pass", "word"], Phrase),
    (&["passwd"], Phrase),
    (&["pwd"], Phrase),
    (&["pw"], Phrase),
    (&["p", "/", "w"], Phrase),
    (&["pass"], Phrase),
    (&["passphrase"], Phrase),
    (&["pass", "phrase"], Phrase),
    (&["codeword"], Phrase),
    (&["code", "word"], Phrase),
    (&["safe", "word"], Phrase),
    (&["duress", "word"], Phrase),
    (&["secret", "word"], Phrase),
    (&["security", "word"], Phrase),
];

/// Accounts in name only: a number of theirs is one where "number" or a colon says so.
pub const PARTIES: &[&str] = &["subscriber", "customer", "client", "contract"];

/// Before "code": whose it is, or what it opens. Then it is a secret for sure.
pub const PERSONAL: &[&str] = &[
    "access", "alarm", "arm", "arming", "babysitter", "cleaner", "default", "disarm", "disarming", "door", "duress",
    "engineer", "entry", "factory", "family", "gate", "guest", "installer", "key", "keypad", "master", "owner",
    "panic", "personal", "programming", "remote", "secret", "security", "service", "sitter", "temporary", "user",
    "visitor",
];

/// Before "code": nothing that changes what it is.
pub const PLAIN: &[&str] = &[
    "a", "actual", "and", "any", "change", "current", "for", "has", "her", "his", "is", "its", "my", "new",
    "of", "old", "or", "our", "own", "same", "the", "their", "this", "use", "with", "your",
];

/// Before the word: what makes it a thing of the trade, or a figure of speech.
pub const FOREIGN_BEFORE: &[&str] = &[
    // Codes of law.
    "building", "electrical", "energy", "fire", "iec", "iso", "life", "local", "plumbing", "residential", "safety",
    // Codes of things.
    "area", "bar", "batch", "cable", "catalogue", "color", "colour", "conductor", "country", "date", "dialling", "drum",
    "error", "event", "events", "fault", "item", "lot", "marking", "model", "morse", "order", "paint", "part", "post", "postal",
    "price", "product", "qr", "ral", "reel", "report", "resistor", "serial", "source", "status", "stock", "tariff",
    "trouble", "type", "wire", "zip", "zone",
    // Codes that a machine gives.
    "displays", "reports", "sends", "shows",
    // Pins of metal.
    "cotter", "dowel", "hinge", "push", "split", "gives", "logs", "prints", "contact", "supplier", "job", "cost", "tax", "voucher",
];

/// Before "account": what makes it a figure of speech.
pub const FIGURES_OF_SPEECH: &[&str] = &["all", "into", "no", "of", "on", "take", "takes"];

/// After the word: what makes it a thing of the trade.
pub const FOREIGN_AFTER: &[&str] = &[
    // Codes of law.
    "allows", "article", "book", "chapter", "compliance", "compliant", "cycle", "edition", "inspection", "inspector",
    "maximum", "minimum", "official", "practice", "requirement", "requires", "review", "says", "section", "table", "wants",
    // Things named after a code or pin.
    "bridge", "count", "diode", "header", "letters", "lock", "pad", "pitch", "plug", "side", "size", "spacing", "strip",
    "switch", "tumbler",
    // Papers and places for it.
    "box", "field", "form", "holder", "sheet", "wheel", "board",
];

/// Small words between a secret's word and its value.
pub const LINKING: &[&str] = &[
    "#", "a", "an", "and", "as", "at", "be", "been", "changed", "currently", "for", "her", "his", "id", "in", "into",
    "it", "its", "my", "no", "now", "nr", "num", "number", "of", "on", "our", "set", "still", "the", "their", "to", "was", "will",
    "with", "your", "ref", "reference", "using",
];

/// Those that say: what follows is the value.
pub const SAYING: &[&str] = &["are", "be", "been", "is", "stays", "was", "reads",
];

/// "account number", "acct no".
pub const NUMBERING: &[&str] = &["#", "id", "no", "nr", "num", "number", "ref", "reference",
];

/// Keys of a spec that say nothing about their value.
pub const NEUTRAL_KEYS: &[&str] = &["digits", "is", "no", "note", "number", "text", "title", "value"];

/// Nouns that claim the number behind them.
pub const CLAIMING: &[&str] = &[
    "address", "article", "breaker", "call", "chapter", "drawing", "drum", "edition", "en", "event", "ext", "extension",
    "figure", "grade", "iec", "input", "invoice", "iso", "key", "level", "manual", "meter", "model", "nfpa", "order", "page",
    "part", "phone", "pin", "quote", "ral", "reel", "room", "route", "section", "serial", "sheet", "strip", "table",
    "tel", "terminal", "ul", "unit", "version", "year", "zone",
];

/// Small words that claim a year or an hour behind them.
pub const TIMING: &[&str] =
    &["after", "at", "before", "by", "from", "in", "of", "since", "through", "till", "until"];

/// Those that claim any hour, not only one on the quarter.
pub const HOURS: &[&str] = &["at", "before", "by", "till", "until"];

/// Words and marks that claim the number before them.
pub const UNITS: &[&str] = &[
    "%", "°", "a", "ac", "ah", "amp", "amps", "awg", "baud", "bps", "cm", "day", "days", "eur", "events", "feet", "ft", "gbp",
    "h", "hour", "hours", "hz", "inch", "inches", "k", "kg", "khz", "km", "kohm", "lines", "lm", "lumen", "m", "ma", "mah",
    "meter", "meters", "metre", "metres", "mhz", "min", "minutes", "mm", "ms", "mv", "ohm", "ohms", "pcs", "pieces", "screws",
    "seconds", "sec", "um", "usd", "v", "va", "volt", "volts", "w", "watt", "watts", "weeks", "x", "years", "yards", "Ω", "×", "g", "n", "lux", "lx", "kn", "nm", "codes", "digits", "possibilities", "times", "users", "zones",
];

/// Words that only hint at a code, and how much.
pub const HINTS: &[(&[&str], Weight)] = &[
    (&["cleaner"], Role),
    (&["engineer"], Role),
    (&["guest"], Role),
    (&["installer"], Role),
    (&["key", "box"], Role),
    (&["key", "safe"], Role),
    (&["lockbox"], Role),
    (&["master"], Role),
    (&["neighbour"], Role),
    (&["owner"], Role),
    (&["sitter"], Role),
    (&["user"], Role),
    (&["visitor"], Role),
    (&["alarm"], Thing),
    (&["dad"], Thing),
    (&["daughter"], Thing),
    (&["husband"], Thing),
    (&["kids"], Thing),
    (&["mum"], Thing),
    (&["mom"], Thing),
    (&["son"], Thing),
    (&["wife"], Thing),
    (&["combination"], Thing),
    (&["digits"], Thing),
    (&["gate"], Thing),
    (&["keypad"], Thing),
    (&["lock"], Thing),
    (&["safe"], Thing),
    (&["uc"], Thing),
    (&["arm"], Use),
    (&["disarm"], Use),
    (&["enter"], Use),
    (&["key", "in"], Use),
    (&["press"], Use),
    (&["type"], Use),
    (&["punch", "in"], Use),
    (&["turn", "off"], Use),
    (&["turn", "it", "off"], Use),
    (&["type", "in"], Use),
    (&["unset"], Use),
];

/// Nodes whose name is that of a type, from a catalogue.
pub const TYPES: &[&str] = &["cable", "part"];

/// How "password: …" goes on where it is none.
pub const NOWHERE: &[&str] = &[
    "a", "agreed", "ask", "at", "blank", "by", "changed", "chosen", "empty", "filled", "for", "from", "given", "here", "in",
    "kept", "known", "left", "needed", "never", "no", "none", "not", "of", "on", "ring", "required", "same", "secret", "see",
    "set", "tbd", "the", "to", "unknown", "used", "with", "written", "any", "as", "customer's", "owner's", "whatever", "your",
];

/// Digits as words.
pub const DIGITS: &[(&str, &str)] = &[
    ("zero", "0"),
    ("oh", "0"),
    ("nought", "0"),
    ("one", "1"),
    ("two", "2"),
    ("three", "3"),
    ("four", "4"),
    ("five", "5"),
    ("six", "6"),
    ("seven", "7"),
    ("eight", "8"),
    ("nine", "9"),
];
