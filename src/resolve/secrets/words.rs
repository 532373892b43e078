//! The words by which a secret is told from the numbers of the trade, all lower case.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use super::names::Sort::{self, Account, Code, Phrase};
use super::names::Weight::{self, Role, Thing, Use};

/// A list of words.
pub(crate) struct Words {
    /// A blank between two of them.
    text: &'static str,
    set: OnceLock<BTreeSet<&'static str>>,
}

impl Words {
    const fn new(text: &'static str) -> Self {
        Self { text, set: OnceLock::new() }
    }

    /// True where it has a word.
    pub(crate) fn has(&self, word: &str) -> bool {
        self.set.get_or_init(|| self.text.split_whitespace().collect()).contains(word)
    }

    /// True where it has a word, or the word of which this is the plural or possessive.
    pub(crate) fn has_form(&self, word: &str) -> bool {
        forms(word).any(|form| self.has(form))
    }
}

/// A word, and those of which it may be the plural or possessive.
fn forms(word: &str) -> impl Iterator<Item = &str> {
    [Some(word), word.strip_suffix('s'), word.strip_suffix("'s")].into_iter().flatten()
}

/// True for a word, its plural and its possessive.
pub(crate) fn is_form(written: &str, word: &str) -> bool {
    forms(written).any(|form| form == word)
}

/// What a name says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Means {
    /// That its value is a secret.
    Secret(Sort),
    /// That it may be.
    Hint(Weight),
}

/// Names by their first word: all their words, and what they say.
type ByFirst = BTreeMap<&'static str, Vec<(Vec<&'static str>, Means)>>;

/// The names that begin with a word or with a form of it: all their words, and what they say.
pub(crate) fn names_from(word: &str) -> impl Iterator<Item = &'static (Vec<&'static str>, Means)> + '_ {
    static BY_FIRST: OnceLock<ByFirst> = OnceLock::new();
    let by_first = BY_FIRST.get_or_init(|| {
        let secrets = SECRETS.iter().map(|(name, sort)| (*name, Means::Secret(*sort)));
        let hints = HINTS.iter().map(|(name, weight)| (*name, Means::Hint(*weight)));
        let mut table = ByFirst::new();
        for (name, means) in secrets.chain(hints) {
            let words: Vec<&'static str> = name.split_whitespace().collect();
            table.entry(words.first().copied().unwrap_or_default()).or_default().push((words, means));
        }
        table
    });
    forms(word).filter_map(|form| by_first.get(form)).flatten()
}

/// Words that name a secret, and what they name. Between two of them may stand a hyphen, a point or a blank.
pub(crate) const SECRETS: &[(&str, Sort)] = &[
    ("passcode", Code),
    ("pass code", Code),
    ("pin", Code),
    ("pin code", Code),
    ("pincode", Code),
    ("keycode", Code),
    ("puk", Code),
    ("secret number", Code),
    ("duress", Code),
    ("safe combination", Code),
    ("lock combination", Code),
    ("code", Code),
    ("account", Account),
    ("acct", Account),
    ("a / c", Account),
    ("csid", Account),
    ("cs #", Account),
    ("cs no", Account),
    ("cs number", Account),
    ("acc no", Account),
    ("subscriber", Account),
    ("customer", Account),
    ("client", Account),
    ("contract", Account),
    ("password", Phrase),
    ("pass word", Phrase),
    ("passwd", Phrase),
    ("pwd", Phrase),
    ("pswd", Phrase),
    ("pw", Phrase),
    ("p / w", Phrase),
    ("pass", Phrase),
    ("passphrase", Phrase),
    ("pass phrase", Phrase),
    ("codeword", Phrase),
    ("code word", Phrase),
    ("safe word", Phrase),
    ("duress word", Phrase),
    ("secret word", Phrase),
    ("security word", Phrase),
];

/// Accounts in name only: a number of theirs is one where "number" or a colon says so.
pub(crate) static PARTIES: Words = Words::new("client contract customer subscriber");

/// Before "code": whose it is, or what it opens. Then it is a secret for sure.
pub(crate) static PERSONAL: Words = Words::new(
    "access alarm arm arming babysitter cleaner default disarm disarming door duress engineer entry factory
    family gate guest installer key keypad master owner panic personal programming remote secret security
    service sitter temporary user visitor",
);

/// Before "code": nothing that changes what it is.
pub(crate) static PLAIN: Words = Words::new(
    "a actual and any change current for has her his is its my new of old or our own same the their this use with
    your",
);

/// Before the word: what makes it a thing of the trade. Codes of law and of accounts; of things; that a machine gives;
/// pins of metal.
pub(crate) static FOREIGN_BEFORE: Words = Words::new(
    "building cost electrical energy fire iec iso job life local plumbing residential safety tax
    area bar batch cable catalogue color colour conductor contact country date dialling drum error event events fault item
    lot marking model morse order paint part post postal price product qr ral reel report resistor serial source status
    stock supplier tariff trouble type voucher wire zip zone
    displays gives logs prints reports sends shows
    cotter dowel hinge push split",
);

/// Before "account": what makes it a figure of speech.
pub(crate) static FIGURES_OF_SPEECH: Words = Words::new("all into no of on take takes");

/// After the word: what makes it a thing of the trade. Codes of law; things named after a code or pin; papers for it.
pub(crate) static FOREIGN_AFTER: Words = Words::new(
    "allows article book chapter compliance compliant cycle edition inspection inspector maximum minimum official practice
    requirement requires review says section table wants
    board bridge count diode header letters lock pad pitch plug side size spacing strip switch tumbler wheel
    box field form holder sheet",
);

/// Small words between a secret's word and its value.
pub(crate) static LINKING: Words = Words::new(
    "# a an and as at be been changed currently for her his id in into it its my no now nr num number of on our
    ref reference set still the their to using was will with your",
);

/// Those that say: what follows is the value.
pub(crate) static SAYING: Words = Words::new("are be been is reads stays was");

/// "account number", "acct no".
pub(crate) static NUMBERING: Words = Words::new("# id no nr num number ref reference");

/// Keys of a spec that say nothing about their value.
pub(crate) static NEUTRAL_KEYS: Words = Words::new("digits is no note number text title value");

/// Nouns that claim the number behind them.
pub(crate) static CLAIMING: Words = Words::new(
    "address article breaker call chapter drawing drum edition en event ext extension figure grade iec input
    invoice iso key level manual meter model nfpa order page part phone pin quote ral reel room route section
    serial sheet strip table tel terminal ul unit version year zone",
);

/// Small words that claim a year or an hour behind them.
pub(crate) static TIMING: Words = Words::new("after at before by from in of since through till until");

/// Those that claim any hour, not only one on the quarter.
pub(crate) static HOURS: Words = Words::new("at before by till until");

/// Words and marks that claim the number before them.
pub(crate) static UNITS: Words = Words::new(
    "% a ac ah amp amps awg baud bps cm codes day days digits eur events feet ft g gbp h hour hours hz inch
    inches k kg lb lbs khz km kn kohm lines lm lumen lux lx m ma mah mins meter meters metre metres mhz min minutes mm ms mv
    n nm ohm ohms pcs pieces possibilities s screws sec secs seconds times um usd users v va volt volts w watt watts
    weeks x yards years zones ° × Ω",
);

/// Words that only hint at a code, and how much.
pub(crate) const HINTS: &[(&str, Weight)] = &[
    ("cleaner", Role),
    ("engineer", Role),
    ("guest", Role),
    ("installer", Role),
    ("key box", Role),
    ("key safe", Role),
    ("lockbox", Role),
    ("master", Role),
    ("neighbour", Role),
    ("owner", Role),
    ("sitter", Role),
    ("user", Role),
    ("visitor", Role),
    ("access number", Role),
    ("cleaning lady", Role),
    ("combination", Role),
    ("combo", Role),
    ("credential", Role),
    ("digits", Role),
    ("login", Role),
    ("passkey", Role),
    ("secret", Role),
    // Words of other languages, where a number is right beside them.
    ("clave", Role),
    ("codice", Role),
    ("código", Role),
    ("contraseña", Role),
    ("geheimzahl", Role),
    ("kennwort", Role),
    ("kode", Role),
    ("mot de passe", Role),
    ("passwort", Role),
    ("alarm", Thing),
    ("dad", Thing),
    ("daughter", Thing),
    ("husband", Thing),
    ("kids", Thing),
    ("mum", Thing),
    ("mom", Thing),
    ("son", Thing),
    ("wife", Thing),
    ("gate", Thing),
    ("keypad", Thing),
    ("lock", Thing),
    ("safe", Thing),
    ("u", Thing),
    ("uc", Thing),
    ("arm", Use),
    ("disarm", Use),
    ("enter", Use),
    ("key in", Use),
    ("press", Use),
    ("type", Use),
    ("punch in", Use),
    ("turn off", Use),
    ("turn it off", Use),
    ("type in", Use),
    ("unset", Use),
    ("unlock", Use),
    ("must say", Use),
    ("to cancel", Use),
];

/// Nodes whose name is that of a type, from a catalogue.
pub(crate) static TYPES: Words = Words::new("cable part");

/// How "password: …" goes on where it is none.
pub(crate) static NOWHERE: Words = Words::new(
    "a agreed any as ask at blank by changed chosen customer's empty filled for from given here in kept known
    left needed never no none not of on owner's required ring same secret see set tbd the to unknown used
    whatever with written your",
);

/// Digits as words.
pub(crate) const DIGITS: &[(&str, &str)] = &[
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
