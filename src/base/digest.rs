//! A digest of bytes, by which a change is seen: it guards against slips, not against malice.

/// FNV-1a (128 bits; offset basis and prime as its authors publish them) of bytes, one piece behind the other.
pub(crate) fn fnv_1a<'a>(pieces: impl IntoIterator<Item = &'a [u8]>) -> u128 {
    pieces.into_iter().flatten().fold(0x6c62_272e_07bb_0142_62b8_2175_6295_c58d_u128, |hash, byte| {
        (hash ^ u128::from(*byte)).wrapping_mul(0x0000_0000_0100_0000_0000_0000_0000_013b)
    })
}
