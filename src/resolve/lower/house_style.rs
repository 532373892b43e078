//! `house-style`: its picture is read here, and its colour.

use super::{Lower, Top};
use crate::base::Spanned;
use crate::model::{HouseStyle, Logo};
use crate::resolve::load::{FileSource, ReadFault};
use crate::resolve::path::normalise;
use crate::resolve::rules;

/// The most bytes of a picture: it stands in each page.
const LARGEST_PICTURE: usize = 128 * 1024;

/// The least contrast of text with its ground: WCAG 2.2, 1.4.3.
const LEAST_CONTRAST: f64 = 4.5;

impl Lower<'_> {
    pub(super) fn house_style(&mut self, tops: &[Top<'_>], source: &dyn FileSource) {
        let Some(reading) = super::once(tops, "house-style") else { return };
        let accent = reading.text("accent").and_then(|written| match colour(&written.value) {
            Some(accent) if contrast_with_white(accent) >= LEAST_CONTRAST => Some(accent),
            Some(accent) => {
                let contrast = contrast_with_white(accent);
                self.sink.push(rules::accent_unusable(&written, Some((contrast, LEAST_CONTRAST))));
                None
            }
            None => {
                self.sink.push(rules::accent_unusable(&written, None));
                None
            }
        });
        let logo = reading.text("logo").and_then(|written| match picture(&written, source) {
            Ok(logo) => Some(logo),
            Err(fault) => {
                self.sink.push(rules::logo_unusable(&written, &fault));
                None
            }
        });
        let text = |name| reading.text(name).map(|text| text.value);
        self.site.house_style = HouseStyle { firm: text("firm"), note: text("note"), accent, logo };
    }
}

/// The picture at a path, or what is wrong with it.
fn picture(written: &Spanned<String>, source: &dyn FileSource) -> Result<Logo, String> {
    let path = normalise(&written.value).map_err(|fault| format!("its path {}", fault.words(&written.value)))?;
    let too_large = |bytes: u64| format!("it is {bytes} bytes long, and a picture is at most 128 KiB");
    let bytes = source.read(&path).map_err(|fault| match fault {
        ReadFault::TooLarge(bytes) => too_large(bytes),
        ReadFault::Missing | ReadFault::NotAFile | ReadFault::Escapes | ReadFault::Failed(_) => fault.to_string(),
    })?;
    if bytes.len() > LARGEST_PICTURE {
        return Err(too_large(bytes.len() as u64));
    }
    let media = match imagesize::image_type(&bytes) {
        Ok(imagesize::ImageType::Png) => "image/png",
        Ok(imagesize::ImageType::Jpeg) => "image/jpeg",
        _ => return Err("it is neither a PNG nor a JPEG picture".to_owned()),
    };
    match imagesize::blob_size(&bytes) {
        Ok(size) if size.width > 0 && size.height > 0 => Ok(Logo { path, media, bytes }),
        Ok(_) | Err(_) => Err("it is cut off: no width and height can be read".to_owned()),
    }
}

/// `#rrggbb`.
fn colour(written: &str) -> Option<[u8; 3]> {
    let hexadecimal = |digits: &&str| digits.len() == 6 && digits.bytes().all(|digit| digit.is_ascii_hexdigit());
    let digits = written.strip_prefix('#').filter(hexadecimal)?;
    let part = |at: usize| u8::from_str_radix(digits.get(at..at + 2)?, 16).ok();
    Some([part(0)?, part(2)?, part(4)?])
}

/// Contrast with white paper, by WCAG 2.2: relative luminance of sRGB.
fn contrast_with_white(colour: [u8; 3]) -> f64 {
    let [red, green, blue] = colour.map(|part| {
        let part = f64::from(part) / 255.0;
        if part <= 0.04045 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
    });
    1.05 / (0.2126 * red + 0.7152 * green + 0.0722 * blue + 0.05)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// WCAG 2.2 and its usual examples, from memory: black 21, white 1, the grey #767676 just over 4.5.
    #[test]
    fn contrast_is_that_of_the_guidelines() {
        let of = |written: &str| contrast_with_white(colour(written).unwrap());
        assert!((of("#000000") - 21.0).abs() < 1e-9 && (of("#ffffff") - 1.0).abs() < 1e-9);
        assert!(of("#767676") >= 4.5 && of("#777777") < 4.5);
        for odd in ["", "#12345", "#1234567", "123456", "#12345g", "#+12345", "#é1234"] {
            assert_eq!(colour(odd), None, "{odd}");
        }
    }
}
