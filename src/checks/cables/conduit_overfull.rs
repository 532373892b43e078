//! A conduit that its cables fill too far.

use crate::base::wording::count;
use crate::calc::bundle;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::raceway;
use crate::words::{share, share_taken};

check!(
    "conduit-overfull",
    Basis::Published("NFPA 70 (NEC) chapter 9, edition not named, from memory; the local code prevails"),
    "a conduit that its cables fill too far"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for conduit in &site.conduits {
        let Some((known, unknown)) = conduit.diameters(site) else { continue };
        let cables = known.len() + unknown;
        let (filled, most) = (bundle::filled(&known, conduit.inside.value), raceway::most(cables));
        if filled <= most.value + 1e-9 {
            continue;
        }
        let (title, of) = (&conduit.title, count(cables, "cable", None));
        let fill = if cables == 1 { "fills" } else { "fill" };
        let (filled, limit) = (share_taken(filled), share(most.value, 100.0));
        // Those of no known diameter take the rest.
        let to = if unknown > 0 { "to more than" } else { "to" };
        let finding = Diagnostic::new(&RULE, conduit.inside.span, format!("{of} {fill} {} {to} {filled}", title.value))
            .here(format!("{of} may fill {limit} of its inside"))
            .why("Cables that fill a conduit jam in its bends, and what is pulled past them tears their jackets. Nothing more gets through later.")
            .help("Take a wider conduit, or a second one beside it.")
            .about(&title.value);
        sink.push(finding);
    }
}
