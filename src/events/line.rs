//! A line of ANSI/SIA DC-05 as it stands in a log: ACCT MT QXYZ GG CCC S, sixteen digits.
//!
//! Terms: *ACCT* is the account, *MT* the type of message (18, or 98), *Q* the qualifier, *XYZ* the code, *GG* the area,
//! *CCC* the number of a zone or user, *S* the check digit. Digits are those of a telephone keypad with B to F besides; 0
//! counts as ten. The account is read to check the line and is not kept.

use std::fmt;

/// What has become of the event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Qualifier {
    /// It has happened; of arming, an opening.
    New,
    /// It is over; of arming, a closing.
    Restore,
    /// It was reported before and still stands.
    Standing,
}

impl Qualifier {
    /// The digit that is sent.
    pub(crate) fn digit(self) -> char {
        match self {
            Self::New => '1',
            Self::Restore => '3',
            Self::Standing => '6',
        }
    }
}

/// A line without its account.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    /// What has become of the event.
    pub(crate) qualifier: Qualifier,
    /// The code.
    pub(crate) code: u32,
    /// The area, 0 for none.
    pub(crate) area: u32,
    /// The number of a zone or user, 0 for none.
    pub(crate) number: u32,
}

/// How far a line could be checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Checked {
    /// Its check digit is right.
    Right,
    /// It has fifteen digits; the check digit would be this.
    Without(char),
    /// The short form of nine digits, which has neither account nor check digit.
    Short,
}

/// Why a line could not be read.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// Some other number of digits.
    #[error("a line has 16 digits, or 9 in the short form, and this has {0}")]
    Length(usize),
    /// A character that is no digit of the standard at that place.
    #[error("“{character}” at place {place} is no digit of DC-05")]
    Digit {
        /// The character.
        character: char,
        /// Its place among the digits, from 1.
        place: usize,
    },
    /// A letter outside account and check digit.
    #[error("“{character}” at place {place} stands where only 0 to 9 may")]
    Letter {
        /// The letter.
        character: char,
        /// Its place among the digits, from 1.
        place: usize,
    },
    /// A type of message that is not DC-05.
    #[error("the type of message is {0}, and that of DC-05 is 18, or 98")]
    Message(String),
    /// A qualifier that means nothing.
    #[error("the qualifier is {0}; it is 1 for new or opening, 3 for restored or closing, 6 for still present")]
    Qualifier(char),
    /// The check digit does not fit.
    #[error("the check digit is {found}, and the digits before it ask for {asked}: the line was heard or copied wrong")]
    Check {
        /// As written.
        found: char,
        /// As computed.
        asked: char,
    },
}

/// The value of a digit: 0 counts as ten, B to F are 11 to 15.
fn worth(digit: char) -> Option<u32> {
    match digit {
        '0' => Some(10),
        'A' => None,
        _ => digit.to_digit(16),
    }
}

/// The check digit of fifteen digits: the sum of all sixteen is a multiple of fifteen. `None` where one is no digit.
fn check_digit(digits: &[char]) -> Option<char> {
    let sum = digits.iter().map(|digit| worth(*digit)).sum::<Option<u32>>()?;
    // What is missing is 1 to 15: ten is written as 0, and there is no digit for nothing, so a sum that fits takes F.
    match 15 - sum % 15 {
        10 => Some('0'),
        missing => char::from_digit(missing, 16).map(|digit| digit.to_ascii_uppercase()),
    }
}

/// Reads a line. Spaces count for nothing; what stands before a bar and behind a bracket, as in the frames of DC-09, is left out.
///
/// # Errors
/// [`Unreadable`] says what is wrong with it.
pub(crate) fn read(text: &str) -> Result<(Line, Checked), Unreadable> {
    let text = text.rsplit('|').next().unwrap_or(text);
    let text = text.split(']').next().unwrap_or(text);
    let digits: Vec<char> = text.chars().filter(|c| !c.is_whitespace()).map(|c| c.to_ascii_uppercase()).collect();
    let offset = match digits.len() {
        9 => 0,
        15 | 16 => 6,
        other => return Err(Unreadable::Length(other)),
    };
    for (place, character) in (1..).zip(digits.iter().copied()) {
        if worth(character).is_none() {
            return Err(Unreadable::Digit { character, place });
        }
        let may_be_letter = offset > 0 && (place <= 4 || place == 16);
        if !may_be_letter && !character.is_ascii_digit() {
            return Err(Unreadable::Letter { character, place });
        }
    }
    let part = |from: usize, length: usize| -> String { digits.iter().skip(from).take(length).collect() };
    let number = |from: usize, length: usize| part(from, length).parse::<u32>().unwrap_or_default();
    if offset > 0 && !["18", "98"].contains(&part(4, 2).as_str()) {
        return Err(Unreadable::Message(part(4, 2)));
    }
    let qualifier = match digits.get(offset) {
        Some('1') => Qualifier::New,
        Some('3') => Qualifier::Restore,
        Some('6') => Qualifier::Standing,
        other => return Err(Unreadable::Qualifier(other.copied().unwrap_or_default())),
    };
    let line =
        Line { qualifier, code: number(offset + 1, 3), area: number(offset + 4, 2), number: number(offset + 6, 3) };
    let asked = digits.get(..15).and_then(check_digit);
    match (asked, digits.get(15)) {
        (Some(asked), Some(found)) if asked == *found => Ok((line, Checked::Right)),
        (Some(asked), Some(found)) => Err(Unreadable::Check { found: *found, asked }),
        (Some(asked), None) => Ok((line, Checked::Without(asked))),
        (None, _) => Ok((line, Checked::Short)),
    }
}

impl Line {
    /// The line with 0000 in place of the account, type 18, and its check digit.
    pub(crate) fn with_blank_account(&self) -> String {
        let body = format!("0000 18 {self}");
        let digits: Vec<char> = body.chars().filter(|character| *character != ' ').collect();
        let check = check_digit(&digits).map(String::from).unwrap_or_default();
        format!("{body} {check}")
    }
}

/// The short form: "1131 01 015".
impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { qualifier, code, area, number } = self;
        write!(f, "{}{code:03} {area:02} {number:03}", qualifier.digit())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The sum of ANSI/SIA DC-05 over lines whose sums were worked by hand: of all sixteen digits it is a multiple of 15.
    const WORKED: &[(&str, u32, char)] = &[
        ("1234 18 1131 01 015", 52, '8'),
        ("1234 18 3131 01 015", 54, '6'),
        ("1234 18 1401 00 003", 78, 'C'),
        ("1234 18 3401 00 003", 80, '0'),
        ("1234 18 1301 00 000", 84, '6'),
        ("1234 18 1602 00 000", 88, '2'),
        ("1234 18 1110 00 007", 79, 'B'),
        ("1234 18 6130 01 002", 72, '3'),
        ("1234 18 1570 02 005", 79, 'B'),
        ("4321 18 1137 01 004", 66, '9'),
        ("1017 18 1130 01 001", 75, 'F'),
        ("B00F 18 1130 01 001", 102, '3'),
    ];

    #[test]
    fn check_digits_are_those_of_the_worked_list() {
        for (line, sum, check) in WORKED {
            let digits: Vec<char> = line.chars().filter(|c| *c != ' ').collect();
            assert_eq!(digits.iter().map(|digit| worth(*digit).unwrap()).sum::<u32>(), *sum, "{line}");
            assert_eq!(check_digit(&digits), Some(*check), "{line}");
            let (told, checked) = read(&format!("{line} {check}")).unwrap();
            assert_eq!((told.to_string().as_str(), checked), (&line[8..], Checked::Right));
            assert_eq!(read(line).unwrap().1, Checked::Without(*check));
            for wrong in "0123456789BCDEF".chars().filter(|digit| digit != check) {
                assert_eq!(
                    read(&format!("{line}{wrong}")),
                    Err(Unreadable::Check { found: wrong, asked: *check }),
                    "{line}"
                );
            }
        }
    }

    #[test]
    fn every_line_that_is_written_is_read_again() {
        for qualifier in [Qualifier::New, Qualifier::Restore, Qualifier::Standing] {
            for code in (100..700).step_by(7) {
                for (area, number) in [(0, 0), (1, 15), (99, 999), (10, 100)] {
                    let line = Line { qualifier, code, area, number };
                    assert_eq!(read(&line.with_blank_account()), Ok((line, Checked::Right)));
                    assert_eq!(read(&line.to_string()), Ok((line, Checked::Short)));
                    assert_eq!(read(&format!("[#0000|{line}]")), Ok((line, Checked::Short)));
                }
            }
        }
    }

    /// The values 1 to 15 differ modulo 15, so one wrong digit is always seen. What is no digit never gets that far.
    #[test]
    fn one_wrong_digit_is_always_seen() {
        for (line, _, check) in WORKED {
            let right: Vec<char> = format!("{line}{check}").chars().filter(|c| *c != ' ').collect();
            for place in 0..right.len() {
                for other in "0123456789BCDEFAxé１|] \u{202e}".chars().filter(|other| *other != right[place]) {
                    let mut wrong = right.clone();
                    wrong[place] = other;
                    let wrong: String = wrong.into_iter().collect();
                    // A blank or a bar makes the line shorter; fifteen digits are a line whose check digit is not there.
                    let told = read(&wrong);
                    assert!(told.as_ref().is_err() || !matches!(told, Ok((_, Checked::Right))), "{wrong}: {told:?}");
                }
            }
        }
    }

    #[test]
    fn what_is_no_line_is_told_why() {
        for (text, why) in [
            ("", "this has 0"),
            ("1131 01 0155", "this has 10"),
            ("1234 18 1131 01 015 88", "this has 17"),
            ("12A4 18 1131 01 015 8", "“A” at place 3 is no digit"),
            ("1234 18 1131 01 0x5 8", "“X” at place 14 is no digit"),
            ("1234 18 1B31 01 015 8", "“B” at place 8 stands where only 0 to 9 may"),
            ("B131 01 015", "“B” at place 1 stands where"),
            ("1234 17 1131 01 015 8", "type of message is 17"),
            ("1234 18 2131 01 015 8", "the qualifier is 2"),
            ("1234 18 1131 01 016 8", "ask for 7"),
        ] {
            let told = read(text).unwrap_err().to_string();
            assert!(told.contains(why), "{text}: {told}");
        }
    }
}
