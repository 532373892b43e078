//! Characters that are not seen, and where they have a use.
//!
//! Two texts that differ only in such a character look alike on paper and are not the same; a text of nothing else looks
//! blank. Some scripts and pictures need a few of them, so each is judged by what it stands between:
//!
//! | character | has a use |
//! | --- | --- |
//! | zero width joiner | after a letter of a script that joins or stacks its letters; between two pictures |
//! | zero width non-joiner | between two letters of such a script |
//! | zero width space | between two letters of a script that is written without blanks |
//! | variation selectors | after a picture, a keycap's digit, an ideograph or a Mongolian letter, each its own |
//! | tags | after the flag that they make the flag of a region |
//! | code points that Unicode sets aside as no characters: `U+FFFE`, `U+FFFF`, … | nowhere; XML cannot even hold them |
//! | all others: soft hyphens, fillers, blank Braille, word joiners, byte order marks, … | nowhere |
//!
//! Out: marks that turn the direction of writing are controls (`wording::is_control`) and allowed nowhere, as Arabic and Hebrew
//! need none of them; letters of two scripts that look alike; two texts in one of those scripts that differ in a joiner only.

/// Characters that are not seen at all: of no width, soft hyphens, fillers, marks that choose a form, no characters.
pub(crate) fn is_unseen(character: char) -> bool {
    // Most of any text is below the first of them.
    if character < '\u{AD}' {
        return false;
    }
    let is_none = u32::from(character) & 0xFFFE == 0xFFFE || matches!(character, '\u{FDD0}'..='\u{FDEF}');
    is_none
        || matches!(character,
        '\u{AD}' | '\u{34F}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}'
        | '\u{200B}'..='\u{200D}' | '\u{2060}'..='\u{2065}' | '\u{206A}'..='\u{206F}' | '\u{2800}' | '\u{3164}'
        | '\u{FE00}'..='\u{FE0F}' | '\u{FEFF}' | '\u{FFA0}' | '\u{FFF0}'..='\u{FFFB}' | '\u{13440}'
        | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D159}' | '\u{1D173}'..='\u{1D17A}' | '\u{E0000}'..='\u{E0FFF}')
}

/// True for a text with nothing to see in it.
pub(crate) fn is_blank(text: &str) -> bool {
    text.chars().all(|character| character.is_whitespace() || is_unseen(character))
}

/// The first character that is not seen and has no use where it stands.
pub(crate) fn misleading(text: &str) -> Option<char> {
    let mut before = None;
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        if is_unseen(character) && !has_use(before, character, characters.peek().copied()) {
            return Some(character);
        }
        before = Some(character);
    }
    None
}

fn has_use(before: Option<char>, character: char, after: Option<char>) -> bool {
    let Some(before) = before else { return false };
    let between = |class: fn(char) -> bool| class(before) && after.is_some_and(class);
    match character {
        '\u{200B}' => between(is_without_blanks),
        '\u{200C}' => between(is_joining),
        '\u{200D}' => is_joining(before) || (ends_picture(before) && after.is_some_and(is_picture)),
        '\u{FE0E}' => is_picture(before),
        '\u{FE0F}' => is_picture(before) || (is_keycap(before) && after == Some('\u{20E3}')),
        '\u{FE00}'..='\u{FE0D}' | '\u{E0100}'..='\u{E01EF}' => is_ideograph(before),
        '\u{180B}'..='\u{180D}' | '\u{180F}' => matches!(before, '\u{1820}'..='\u{18AA}'),
        '\u{E0020}'..='\u{E007F}' => matches!(before, '\u{1F3F4}' | '\u{E0020}'..='\u{E007E}'),
        _ => false,
    }
}

/// Arabic, Syriac and what is written like them, the scripts of India and its neighbours, Tibetan, Burmese, Khmer, Mongolian.
fn is_joining(character: char) -> bool {
    let script = matches!(character,
        '\u{0600}'..='\u{08FF}' | '\u{0900}'..='\u{0DFF}' | '\u{0F00}'..='\u{109F}' | '\u{1780}'..='\u{18AF}'
        | '\u{1A20}'..='\u{1AAF}' | '\u{1B00}'..='\u{1C4F}' | '\u{A840}'..='\u{A8FF}' | '\u{A980}'..='\u{AAFF}'
        | '\u{ABC0}'..='\u{ABFF}' | '\u{FB50}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFC}' | '\u{11000}'..='\u{11FFF}');
    script && !is_unseen(character)
}

/// Thai, Lao, Burmese, Khmer.
fn is_without_blanks(character: char) -> bool {
    matches!(character, '\u{0E01}'..='\u{0EFF}' | '\u{1000}'..='\u{109F}' | '\u{1780}'..='\u{17B3}' | '\u{17B6}'..='\u{17FF}')
}

fn is_ideograph(character: char) -> bool {
    matches!(character, '\u{3400}'..='\u{9FFF}' | '\u{F900}'..='\u{FAFF}' | '\u{20000}'..='\u{3FFFF}')
}

fn is_picture(character: char) -> bool {
    matches!(character,
        '\u{A9}' | '\u{AE}' | '\u{203C}' | '\u{2049}' | '\u{2122}' | '\u{2139}' | '\u{2190}'..='\u{27FF}'
        | '\u{2900}'..='\u{2BFF}' | '\u{3030}' | '\u{303D}' | '\u{3297}' | '\u{3299}' | '\u{1F000}'..='\u{1FAFF}')
}

fn ends_picture(character: char) -> bool {
    is_picture(character) || character == '\u{FE0F}'
}

fn is_keycap(character: char) -> bool {
    character.is_ascii_digit() || matches!(character, '#' | '*')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_makes_two_texts_look_alike_is_found() {
        for unseen in [
            '\u{200B}',
            '\u{200C}',
            '\u{200D}',
            '\u{AD}',
            '\u{34F}',
            '\u{115F}',
            '\u{1160}',
            '\u{3164}',
            '\u{FFA0}',
            '\u{2800}',
            '\u{2060}',
            '\u{2062}',
            '\u{FE0F}',
            '\u{FE00}',
            '\u{FEFF}',
            '\u{180E}',
            '\u{17B4}',
            '\u{E0001}',
            '\u{E0041}',
            '\u{E0101}',
            '\u{FFF9}',
        ] {
            for text in
                [format!("Front{unseen} door"), format!("{unseen}Front"), format!("Front{unseen}"), format!("{unseen}")]
            {
                assert_eq!(misleading(&text), Some(unseen), "{text:?}");
            }
            assert!(is_blank(&format!(" {unseen}\u{A0}")));
        }
        assert_eq!(misleading("1\u{FE0F}"), Some('\u{FE0F}'));
        assert_eq!(misleading("🚪\u{200D}"), Some('\u{200D}'));
        assert_eq!(misleading("🚪\u{E0067}"), Some('\u{E0067}'));
    }

    #[test]
    fn scripts_and_pictures_keep_what_they_need() {
        for text in [
            "Front door, Küche, 扉, ประตู, дверь",
            "باب المطبخ",
            "דלת המטבח",
            "می\u{200C}شود",
            "ه\u{200D}",
            "क्\u{200D}ष",
            "ශ්\u{200D}රී",
            "ខ្មែរ\u{200B}ភាសា",
            "葛\u{E0100}城",
            "👨\u{200D}👩\u{200D}👧",
            "❤\u{FE0F}\u{200D}🔥",
            "1\u{FE0F}\u{20E3} ☎\u{FE0F}",
            "🏴\u{E0067}\u{E0062}\u{E0065}\u{E006E}\u{E0067}\u{E007F}",
        ] {
            assert_eq!(misleading(text), None, "{text}");
            assert!(!is_blank(text));
        }
    }
}
