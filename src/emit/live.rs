//! A page of the packet as `watch` serves it: with what was found, and a script that loads the next state.

use super::escape;
use super::page::{POLICY, Script};

/// Loads the next state of a page.
static LIVE: Script =
    Script { text: include_str!("../../templates/live.js"), digest: "ZmpoTFR29+7/K30z52ub2330Co07IT34pwzc5sXO5ag=" };

/// A page with what was found at its top. `state` is another word for each state of the packet.
pub(crate) fn live(page: &str, state: u64, summary: &str, findings: &str) -> String {
    let allowed = format!("connect-src 'self'; script-src 'sha256-{}'", LIVE.digest);
    // A page with a script of its own names that one behind our policy already, and a policy has one list.
    let own = format!("{POLICY}; script-src ");
    let open = if page.contains(&own) {
        page.replacen(&own, &format!("{POLICY}; {allowed} "), 1)
    } else {
        page.replacen(POLICY, &format!("{POLICY}; {allowed}"), 1)
    };
    let (summary, findings) = (escape::html(summary), escape::html(findings));
    let told = format!(
        "<body>\n<aside id=\"live\" data-state=\"{state}\">\n<details open=\"open\"><summary>{summary}</summary>\n\
         <pre>{findings}</pre>\n</details>\n</aside>\n"
    );
    let script = format!("<script>{}</script>\n</body>", LIVE.text);
    open.replacen("<body>\n", &told, 1).replacen("</body>", &script, 1)
}

/// The page that stands for a packet which was never whole.
pub(crate) fn without_packet() -> String {
    super::page::Page { title: "No packet yet", ..super::page::Page::default() }.html()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::emit::page::{Found, Page, Tool};

    #[test]
    fn both_scripts_are_allowed_and_nothing_else_is() {
        let found = vec![Found { text: "Z1".into(), sheet: "Labels", to: "a.html#b".into() }];
        for page in [Page::default(), Page { tool: Tool::Find(found), ..Page::default() }] {
            let html = page.html();
            let live = live(&html, 7, "1 error", "<b>&");
            let policy = live.lines().find(|line| line.contains("Content-Security-Policy")).unwrap();
            assert_eq!(policy.matches("script-src").count(), 1);
            let scripts = live.matches("<script>").count();
            assert_eq!(policy.matches("'sha256-").count(), scripts, "{policy}");
            assert!(policy.contains(LIVE.digest) && policy.contains("connect-src 'self'"));
            assert!(live.contains("data-state=\"7\"") && live.contains("<pre>&lt;b&gt;&amp;</pre>"));
        }
    }
}
