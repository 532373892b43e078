//! `loopwright explain`: a rule's page set for a terminal, and the list of all rules.

use std::fmt::Write;

use serde::Serialize;

use super::prose;
use super::screen::Screen;
use super::{Exit, Stop};
use crate::base::wording::did_you_mean;
use crate::diag::{Format, Look, Rule, json};

/// A rule for programs.
#[derive(Serialize)]
struct Document {
    rule: &'static str,
    severity: &'static str,
    basis: String,
    summary: &'static str,
    page: &'static str,
}

/// Prints the page of the rule named `slug`.
pub(super) fn run(screen: &mut Screen, rules: &[&'static Rule], slug: &str) -> Result<Exit, Stop> {
    let Some(rule) = rules.iter().find(|rule| rule.slug == slug) else {
        let near = did_you_mean(slug, rules.iter().map(|rule| rule.slug));
        let help = near.map_or_else(
            || "loopwright explain --list shows all rules".to_owned(),
            |near| format!("did you mean {near}?"),
        );
        return Err(Stop::new(format!("there is no rule {slug}")).help(help));
    };
    let text = match screen.format {
        Format::Human(look) => page(look, rule),
        Format::Short => format!("{}\n{}\n", line(rule), rule.page.trim_end()),
        Format::Json => json::print(&document(rule)),
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

/// Prints every rule with its severity and summary, by name.
pub(super) fn list(screen: &mut Screen, rules: &[&'static Rule]) -> Result<Exit, Stop> {
    let mut rules = rules.to_vec();
    rules.sort_by_key(|rule| rule.slug);
    let text = match screen.format {
        Format::Human(look) => look.fit(&table(look, &rules)),
        Format::Short => rules.iter().map(|rule| line(rule) + "\n").collect(),
        Format::Json => json::print(&rules.iter().map(|rule| document(rule)).collect::<Vec<_>>()),
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

/// Prints the schema of the findings as JSON.
pub(super) fn schema(screen: &mut Screen) -> Result<Exit, Stop> {
    screen.print(&json::print(&json::schema()))?;
    Ok(Exit::Clean)
}

fn document(rule: &Rule) -> Document {
    Document {
        rule: rule.slug,
        severity: rule.severity().word(),
        basis: rule.basis.words(),
        summary: rule.summary,
        page: rule.page,
    }
}

fn line(rule: &Rule) -> String {
    format!("{}: {}: {}", rule.slug, rule.severity().word(), rule.summary)
}

fn table(look: Look, rules: &[&'static Rule]) -> String {
    let widest = rules.iter().map(|rule| rule.slug.len()).max().unwrap_or(0);
    rules.iter().fold(String::new(), |mut text, rule| {
        let gap = " ".repeat("warning".len() - rule.severity().word().len());
        let _ = writeln!(text, "{:widest$}  {}{gap}  {}", rule.slug, look.severity(rule.severity()), rule.summary);
        text
    })
}

/// The page as it is set for a terminal.
fn page(look: Look, rule: &Rule) -> String {
    let heading = format!("{} {}: {}\n", look.severity(rule.severity()), look.heading(rule.slug), rule.summary);
    format!("{}Basis: {}\n\n{}", look.fit(&heading), rule.basis.words(), prose::set(look, rule.page))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diag::Basis;

    static ONE: Rule = Rule {
        slug: "input-twice",
        basis: Basis::Contradiction,
        summary: "an input is used twice",
        page: "# Input used twice\n\nTwo loops share\nan input.\n\n- one\n- two\n\n```kdl\nzone 1 {\n\n    x\n}\n```\nEnd.\n",
    };
    static TWO: Rule =
        Rule { slug: "bus-star", basis: Basis::Practice, summary: "the bus is wired as a star", page: "Page.\n" };

    fn printed(format: Format, run: impl Fn(&mut Screen) -> Result<Exit, Stop>) -> String {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        assert_eq!(run(&mut Screen::new(format, &mut out, &mut err)), Ok(Exit::Clean));
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn a_page_is_set_for_a_terminal() {
        let text = printed(Format::Human(Look::PLAIN), |screen| run(screen, &[&TWO, &ONE], "input-twice"));
        assert_eq!(
            text,
            "error input-twice: an input is used twice\nBasis: contradiction in the spec\n\nInput used twice\n\n\
             Two loops share an input.\n\n- one\n- two\n\n    zone 1 {\n\n        x\n    }\nEnd.\n"
        );
    }

    #[test]
    fn the_list_is_sorted_and_aligned() {
        let text = printed(Format::Human(Look::PLAIN), |screen| list(screen, &[&ONE, &TWO]));
        assert_eq!(
            text,
            "bus-star     note     the bus is wired as a star\ninput-twice  error    an input is used twice\n"
        );
        let short = printed(Format::Short, |screen| list(screen, &[&ONE, &TWO]));
        assert_eq!(short, "bus-star: note: the bus is wired as a star\ninput-twice: error: an input is used twice\n");
        let json = printed(Format::Json, |screen| list(screen, &[&ONE, &TWO]));
        let json: serde_json::Value = serde_json::from_str(&json).unwrap();
        assert_eq!((&json[0]["rule"], &json[1]["severity"]), (&"bus-star".into(), &"error".into()));
    }

    #[test]
    fn an_unknown_rule_gets_the_nearest_name() {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let mut screen = Screen::new(Format::Short, &mut out, &mut err);
        let stop = run(&mut screen, &[&ONE, &TWO], "input-twise").unwrap_err();
        assert_eq!(stop.message, "there is no rule input-twise");
        assert_eq!(stop.help.unwrap(), "did you mean input-twice?");
        assert!(run(&mut screen, &[], "x").unwrap_err().help.unwrap().contains("--list"));
    }
}
