//! Masking changes what it masks and nothing else.

use super::{find, hide, mask};

#[test]
fn masking_keeps_every_other_byte() {
    let text = "a code=4417 b";
    assert_eq!(mask(text, &find(text)), "a code=**** b");
    let text = "code ４４１７\nx";
    assert_eq!(mask(text, &find(text)).len(), text.len());
    assert_eq!(hide("wiring/code-4417.kdl"), "wiring/code-****.kdl");
    assert_eq!(hide("wiring/ground.kdl"), "wiring/ground.kdl");
}
