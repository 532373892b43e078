//! Two-dimensional codes of short texts: QR code, ISO/IEC 18004.

use qrcodegen::{QrCode, QrCodeEcc};

use super::role::Role;
use super::scene::Scene;

/// The side of a square in millimetres: dots that any office printer has.
const MODULE: f64 = 0.4;
/// Squares that stay free around the code.
const QUIET: i32 = 4;

/// A text as a code.
pub(crate) struct Code(QrCode);

impl Code {
    /// The code of a text; `None` of one that is too long for any. A quarter of it may be unreadable.
    pub(crate) fn of(text: &str) -> Option<Self> {
        QrCode::encode_text(text, QrCodeEcc::Quartile).ok().map(Self)
    }

    /// Its side in millimetres, with what stays free around it.
    pub(crate) fn side(&self) -> f64 {
        f64::from(self.0.size() + 2 * QUIET) * MODULE
    }

    /// Adds it, its free edge's upper left corner at a point.
    pub(crate) fn draw(&self, scene: &mut Scene, (x, y): (f64, f64)) {
        let place = |squares: i32| f64::from(squares + QUIET) * MODULE;
        for row in 0..self.0.size() {
            for (column, length) in self.dark(row) {
                let corner = (hundredths(x) + place(column), hundredths(y) + place(row));
                scene.rectangle(Role::Code, corner, (f64::from(length) * MODULE, MODULE));
            }
        }
    }

    /// The dark squares of a row, side by side: the first of them and how many.
    fn dark(&self, row: i32) -> Vec<(i32, i32)> {
        let mut runs: Vec<(i32, i32)> = Vec::new();
        for column in (0..self.0.size()).filter(|column| self.0.get_module(*column, row)) {
            match runs.last_mut() {
                Some((first, length)) if *first + *length == column => *length += 1,
                _ => runs.push((column, 1)),
            }
        }
        runs
    }
}

/// A length as drawings print it: squares that touch have one edge.
fn hundredths(length: f64) -> f64 {
    (length * 100.0).round() / 100.0
}
