//! The pages of rules behind the sheet that lists them: our own Markdown, with headings one level further down.

use crate::diag::Rule;

/// The pages, one after the other. The name of a rule is the place of its page.
pub(super) fn text(rules: &[&'static Rule]) -> String {
    let mut out = String::new();
    for rule in rules {
        out.push('\n');
        let mut example = false;
        for line in rule.page.lines() {
            example ^= line.starts_with("```");
            // The word behind it, `bad` or `good`, is for the test of the page.
            let line = if line.starts_with("```kdl") { "```kdl" } else { line };
            if line.starts_with('#') && !example {
                out.push('#');
            }
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}
