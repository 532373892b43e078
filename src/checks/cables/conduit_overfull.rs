//! A conduit that its cables fill too far.

use crate::base::wording::count;
use crate::calc::bundle;
use crate::checks::Context;
use crate::diag::{Basis, Diagnostic, Sink};
use crate::profiles::raceway;
use crate::quantity::Ratio;
use crate::words::share;

check!(
    "conduit-overfull",
    Basis::Published("NFPA 70 (NEC) chapter 9, edition not named, from memory; the local code prevails"),
    "a conduit that its cables fill too far"
);

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for conduit in &site.conduits {
        let Some(cables) = conduit.diameters(site) else { continue };
        let (filled, most) = (bundle::filled(&cables, conduit.inside.value), raceway::most(cables.len()));
        if filled <= most.value + 1e-9 {
            continue;
        }
        let (title, of) = (&conduit.title, count(cables.len(), "cable", None));
        let fill = if cables.len() == 1 { "fills" } else { "fill" };
        let (filled, limit) = (Ratio((filled * 100.0).ceil() / 100.0), share(most.value, 100.0));
        let finding = Diagnostic::new(&RULE, conduit.inside.span, format!("{of} {fill} {} to {filled}", title.value))
            .here(format!("{of} may fill {limit} of its inside"))
            .why("Cables that fill a conduit jam in its bends, and what is pulled past them tears their jackets. Nothing more gets through later.")
            .help("Take a wider conduit, or a second one beside it.")
            .about(&title.value);
        sink.push(finding);
    }
}
