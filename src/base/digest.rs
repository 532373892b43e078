//! A digest that tells one text from another. It guards against slips, not against malice.

/// FNV-1a hash of some bytes, 128 bits in 32 hexadecimal digits; offset basis and prime as its authors publish them.
pub(crate) fn digest(bytes: impl IntoIterator<Item = u8>) -> String {
    let hash = bytes.into_iter().fold(0x6c62_272e_07bb_0142_62b8_2175_6295_c58d_u128, |hash, byte| {
        (hash ^ u128::from(byte)).wrapping_mul(0x0000_0000_0100_0000_0000_0000_0000_013b)
    });
    format!("{hash:032x}")
}
