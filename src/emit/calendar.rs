//! A calendar as a file by RFC 5545: CRLF, lines folded at 75 octets, text escaped.
//!
//! Out of scope: what is in it and when (`views::upkeep`).

use jiff::civil::Date;

use crate::base::wording::is_control;
use crate::views::upkeep::{Calendar, Event, HOW};

/// Octets of a line without its end (RFC 5545, 3.1).
const WIDTH: usize = 75;

/// The file.
pub(crate) fn ics(calendar: &Calendar) -> String {
    let mut file = String::new();
    for text in ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//loopwright//maintenance//EN", "CALSCALE:GREGORIAN"] {
        line(&mut file, text);
    }
    line(&mut file, &format!("NAME:{}", escaped(&calendar.title)));
    line(&mut file, &format!("DESCRIPTION:{}.", escaped(HOW)));
    for event in &calendar.events {
        write(&mut file, calendar, event);
    }
    line(&mut file, "END:VCALENDAR");
    file
}

fn write(file: &mut String, calendar: &Calendar, event: &Event) {
    let summary = escaped(&event.summary);
    line(file, "BEGIN:VEVENT");
    line(file, &format!("UID:{}", escaped(&event.uid)));
    line(file, &format!("DTSTAMP:{}T000000Z", day(calendar.stamp)));
    line(file, &format!("SEQUENCE:{}", calendar.sequence));
    line(file, &format!("DTSTART;VALUE=DATE:{}", day(event.day)));
    if let Some(rule) = &event.rule {
        line(file, &format!("RRULE:{rule}"));
    }
    line(file, &format!("SUMMARY:{summary}"));
    line(file, &format!("DESCRIPTION:{}", escaped(&event.description)));
    // It takes no time of the day.
    line(file, "TRANSP:TRANSPARENT");
    if let Some(notice) = event.notice {
        line(file, "BEGIN:VALARM");
        line(file, "ACTION:DISPLAY");
        line(file, &format!("TRIGGER:-P{notice:.0}D"));
        line(file, &format!("DESCRIPTION:{summary}"));
        line(file, "END:VALARM");
    }
    line(file, "END:VEVENT");
}

fn day(day: Date) -> String {
    day.strftime("%Y%m%d").to_string()
}

/// Text by 3.3.11; what is no character to see becomes a blank.
fn escaped(text: &str) -> String {
    let mut escaped = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '\\' | ';' | ',' => escaped.extend(['\\', character]),
            character if is_control(character) => escaped.push(' '),
            character => escaped.push(character),
        }
    }
    escaped
}

/// A line with its end, folded between characters: what goes on begins with a blank, which counts.
fn line(file: &mut String, text: &str) {
    let mut octets = 0;
    for character in text.chars() {
        if octets + character.len_utf8() > WIDTH {
            file.push_str("\r\n ");
            octets = 1;
        }
        file.push(character);
        octets += character.len_utf8();
    }
    file.push_str("\r\n");
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The example of 3.1, and a line one octet too long.
    #[test]
    fn a_line_of_76_octets_is_folded_after_75() {
        let mut file = String::new();
        line(&mut file, &"x".repeat(76));
        assert_eq!(file, format!("{}\r\n x\r\n", "x".repeat(75)));
        let mut whole = String::new();
        line(&mut whole, &"x".repeat(75));
        assert_eq!(whole, format!("{}\r\n", "x".repeat(75)));
    }

    #[test]
    fn marks_of_the_format_are_escaped() {
        assert_eq!(escaped("a\\b; c, d\n"), "a\\\\b\\; c\\, d ");
    }

    proptest! {
        #[test]
        fn folded_lines_are_short_and_unfold_to_the_text(text in "\\PC{0,300}") {
            let mut file = String::new();
            line(&mut file, &text);
            for piece in file.split("\r\n") {
                prop_assert!(piece.len() <= WIDTH);
            }
            prop_assert_eq!(file.replace("\r\n ", ""), text + "\r\n");
        }
    }
}
