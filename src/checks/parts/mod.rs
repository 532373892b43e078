//! What a part lacks.

checks! {
    part_lacks_connection,
    part_unconfirmed,
    terminal_repeated,
    terminal_unlisted,
    terminal_without_purpose,
}
