//! A sounder or load on a supply of the wrong form: steady, pulsed or a tone.

use crate::calc::power::suits::form;
use crate::checks::supply::power_verdict::{fed_once, output_of};
use crate::checks::supply::power_words;
use crate::checks::{Context, about};
use crate::diag::{Basis, Diagnostic, Sink};
use crate::model::Output;
use crate::terms::{Senses, SupplyForm};
use crate::words::Screen;

check!("supply-form-wrong", Basis::Contradiction, "a sounder or load on a supply of the wrong form");

fn run(context: Context<'_>, sink: &mut Sink) {
    let site = context.site;
    for feeding in &context.power.feedings {
        for (node, load) in feeding.tree.loads() {
            let Some(output) = output_of(site, &feeding.tree, node) else { continue };
            let needs = form(site, load.consumer);
            if needs == output.form || !fed_once(site, load.consumer) {
                continue;
            }
            let who = Screen.consumer(site, load.consumer);
            let outlet = feeding.tree.outlet_of(node);
            let others = site.outputs(outlet.board()).map(|(_, output)| output);
            let fitting = others
                .into_iter()
                .find(|other| (other.form, other.when, other.switched) == (needs, output.when, output.switched));
            // Another output is another supply: what watches one must be made for it.
            let watches = load.senses(site) == Some(Senses::Supply);
            let help = match fitting {
                _ if watches => {
                    format!("Take one that needs {}, as the detectors do that it watches.", article(output.form))
                }
                Some(Output { name, .. }) => {
                    format!("Feed it from output=\"{}\", which gives {}.", name.value, article(needs))
                }
                None => {
                    format!("Take one that needs {}, or an output that gives {}.", article(output.form), article(needs))
                }
            };
            let finding = Diagnostic::new(
                &RULE,
                power_words::span(site, load.consumer),
                format!("{who} needs {} and gets {}", article(needs), article(output.form)),
            )
            .here(format!("needs {}", article(needs)))
            .also(power_words::source_span(site, outlet), format!("gives {}", article(output.form)))
            .why(if watches {
                "It drops in each break of a pulsed supply, and may never pull in on one that it is not made for: the loop shows a lost supply all the time, or never."
            } else {
                why(needs, output.form)
            })
            .help(help);
            sink.push(about::consumer(site, load.consumer, finding));
        }
    }
}

fn article(form: SupplyForm) -> &'static str {
    match form {
        SupplyForm::Steady => "a steady supply",
        SupplyForm::Pulsed => "a pulsed supply",
        SupplyForm::Tone => "a tone",
    }
}

fn why(needs: SupplyForm, gets: SupplyForm) -> &'static str {
    match (needs, gets) {
        (SupplyForm::Tone, _) => {
            "A loudspeaker makes the sound of what it is given. A direct voltage gives one click, and then heats its coil until that burns."
        }
        (_, SupplyForm::Tone) => {
            "The output gives the sound itself, an alternating voltage for a loudspeaker. Electronics that expect d.c. take harm from it, or stay silent."
        }
        (SupplyForm::Pulsed, _) => {
            "It sounds as long as it has a supply: without breaks it gives one long tone, and the pattern that says fire or burglary is lost."
        }
        (SupplyForm::Steady, _) => {
            "It makes its own pattern, and starts it afresh with each pulse: what is heard is no pattern that anybody knows, and its electronics may never start."
        }
    }
}
