//! Round steps of a scale.

/// 1, 2, 5, 10, 20, 50 and so on.
pub(super) fn round() -> impl Iterator<Item = f64> {
    let tens = std::iter::successors(Some(1.0), |ten| Some(ten * 10.0)).take(12);
    tens.flat_map(|ten: f64| [1.0, 2.0, 5.0].map(|step| step * ten))
}
