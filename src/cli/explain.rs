//! `loopwright explain`: a rule's page set for a terminal, what the rule found on a site, and the list of all rules.

use std::fmt::Write;
use std::path::Path;

use serde::Serialize;

use super::disk::DiskFiles;
use super::screen::Screen;
use super::{Exit, Stop, prose, question};
use crate::base::wording::did_you_mean;
use crate::diag::wrap::wrap;
use crate::diag::{Diagnostic, Format, Look, Rule, json, neutral, render};
use crate::session::{self, Extent};

/// A rule for programs.
#[derive(Serialize)]
struct Document {
    rule: &'static str,
    severity: &'static str,
    basis: String,
    summary: &'static str,
    page: &'static str,
}

/// A rule and what it found on a site, for programs.
#[derive(Serialize)]
struct OnSite {
    #[serde(flatten)]
    rule: Document,
    /// The site's name, where it could be read.
    site: Option<String>,
    #[serde(flatten)]
    findings: json::Findings,
    /// What the site holds; null where it could not be read.
    looked_at: Option<Extent>,
}

/// Prints the page of the rule named `slug`.
pub(super) fn run(screen: &mut Screen, rules: &[&'static Rule], slug: &str) -> Result<Exit, Stop> {
    let rule = named(rules, slug)?;
    let text = match screen.format {
        Format::Human(look) => page(look, rule),
        Format::Short => format!("{}\n{}\n", line(rule), rule.page.trim_end()),
        Format::Json => json::print(&document(rule)),
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

/// Prints the page of the rule named `slug`, and what it found on the one site that `path` means.
pub(super) fn on_site(screen: &mut Screen, rules: &[&'static Rule], slug: &str, path: &Path) -> Result<Exit, Stop> {
    let rule = named(rules, slug)?;
    let files = DiskFiles::open(&question::one_site(path)?)?;
    let (outcome, extent) = session::extent(&files);
    let (found, others): (Vec<Diagnostic>, Vec<Diagnostic>) =
        outcome.diagnostics.into_iter().partition(|found| found.rule.slug == rule.slug);
    let failed = others.iter().any(Diagnostic::is_error);
    let told = if found.is_empty() {
        nothing(extent.as_ref(), failed)
    } else {
        render(screen.format, &outcome.sources, &found, render::LIMIT)
    };
    let text = match screen.format {
        Format::Human(look) => {
            let name = outcome.site.map_or_else(|| "this site".to_owned(), |name| neutral::shown(&name));
            let told = if found.is_empty() { wrap(&told, "", look.prose_width()) } else { told };
            format!("{}\n{}\n\n{told}", page(look, rule), look.heading(&format!("On {name}")))
        }
        Format::Short if found.is_empty() => format!("{}\n{told}\n", line(rule)),
        Format::Short => format!("{}\n{told}", line(rule)),
        Format::Json => {
            let findings = json::Findings::new(&outcome.sources, &found, usize::MAX);
            json::print(&OnSite { rule: document(rule), site: outcome.site, findings, looked_at: extent })
        }
    };
    screen.print(&text)?;
    Ok(Exit::Clean)
}

/// What is said where a rule found nothing.
fn nothing(extent: Option<&Extent>, failed: bool) -> String {
    let looked = match extent {
        Some(extent) => format!("No finding. The site has {extent}."),
        None => "No finding, for the site could not be read.".to_owned(),
    };
    let silent = " It has errors of other rules: until they are gone, what depends on them is not looked at.";
    if failed { looked + silent } else { looked }
}

/// The rule of a name.
fn named(rules: &[&'static Rule], slug: &str) -> Result<&'static Rule, Stop> {
    rules.iter().copied().find(|rule| rule.slug == slug).ok_or_else(|| {
        let near = did_you_mean(slug, rules.iter().map(|rule| rule.slug));
        let help = near.map_or_else(
            || "loopwright explain --list shows all rules".to_owned(),
            |near| format!("did you mean {near}?"),
        );
        Stop::new(format!("there is no rule {slug}")).help(help)
    })
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
