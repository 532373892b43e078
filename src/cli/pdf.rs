//! `compile --pdf`: the joined file of each reader as PDF, printed by a browser of this machine.
//!
//! A browser, because it is what everybody prints the pages with: the PDF is the same paper. It is run without a network, in a
//! folder of its own, which is removed. The bytes are those of the browser, but for the time of printing, which is taken out:
//! the same browser gives the same bytes, except that it numbers the cells of the tables for screen readers in another order
//! now and then.

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use tempfile::TempDir;

use super::{Stop, plain};
use crate::emit::Bundle;
use crate::server::uri;

/// Names that a browser which can print may have.
const BROWSERS: [&str; 6] =
    ["chromium", "chromium-browser", "chrome", "google-chrome", "google-chrome-stable", "msedge"];

/// The variable that names another one.
const VARIABLE: &str = "LOOPWRIGHT_BROWSER";

/// How long one file may take.
const PATIENCE: Duration = Duration::from_mins(2);

/// The time that stands in each PDF in place of that of printing.
const TIME: &[u8] = b"(D:20000101000000+00'00')";

/// Adds a PDF of each joined file to a packet.
pub(super) fn add(bundle: &mut Bundle) -> Result<(), Stop> {
    let folder = tempfile::Builder::new().prefix("loopwright-print-").tempdir();
    let place = Place(folder.map_err(|error| failed(&plain(&error)))?);
    for file in bundle.joined() {
        let page = bundle.files.get(&file).map(Vec::as_slice).unwrap_or_default();
        let pdf = place.print(page)?;
        bundle.files.insert(file.replace(".html", ".pdf"), without_time(pdf));
    }
    Ok(())
}

/// A folder for one run, removed at its end.
struct Place(TempDir);

impl Place {
    /// A page as PDF.
    fn print(&self, page: &[u8]) -> Result<Vec<u8>, Stop> {
        let (source, target) = (self.0.path().join("page.html"), self.0.path().join("page.pdf"));
        // One of an earlier page must not be taken for this one's.
        let _ = std::fs::remove_file(&target);
        std::fs::write(&source, page).map_err(|error| failed(&plain(&error)))?;
        let mut browser = self.start(&source, &target)?;
        wait(&mut browser)?;
        std::fs::read(&target).map_err(|error| failed(&format!("it printed nothing ({})", plain(&error))))
    }

    fn start(&self, source: &Path, target: &Path) -> Result<Child, Stop> {
        let named = std::env::var_os(VARIABLE).map(PathBuf::from);
        let candidates = named.map_or_else(|| BROWSERS.iter().map(PathBuf::from).collect(), |named| vec![named]);
        for candidate in candidates {
            let mut command = Command::new(candidate);
            command
                .args(["--headless", "--disable-gpu", "--no-first-run", "--disable-background-networking"])
                .args(["--disable-component-update", "--disable-sync", "--no-pdf-header-footer"])
                .arg(argument("--user-data-dir=", &self.0.path().join("profile")))
                .arg(argument("--print-to-pdf=", target))
                .arg(address(source))
                .stdin(Stdio::null())
                .stdout(Stdio::null())
                .stderr(Stdio::null());
            // It refuses to be the superuser's, as in a container, unless it is told so. The page is ours, and has no script.
            #[cfg(unix)]
            if rustix::process::geteuid().is_root() {
                command.arg("--no-sandbox");
            }
            match command.spawn() {
                Ok(child) => return Ok(child),
                Err(error) if error.kind() == std::io::ErrorKind::NotFound => {}
                Err(error) => return Err(failed(&plain(&error))),
            }
        }
        Err(Stop::new("there is no browser on this machine that prints PDF").help(format!(
            "install Chromium, or name another program of its kind in {VARIABLE}; every page prints from any browser as well"
        )))
    }
}

/// The address of a page, whatever stands in its path.
fn address(page: &Path) -> std::ffi::OsString {
    let uri = page.to_str().and_then(uri::of_path);
    uri.map_or_else(|| argument("file://", page), |uri| uri.as_str().into())
}

fn argument(name: &str, path: &Path) -> std::ffi::OsString {
    let mut argument = std::ffi::OsString::from(name);
    argument.push(path);
    argument
}

fn wait(browser: &mut Child) -> Result<(), Stop> {
    let begun = Instant::now();
    loop {
        match browser.try_wait() {
            Ok(Some(status)) if status.success() => return Ok(()),
            Ok(Some(status)) => return Err(failed(&format!("it ended with {status}"))),
            Ok(None) if begun.elapsed() < PATIENCE => std::thread::sleep(Duration::from_millis(20)),
            Ok(None) => {
                // It may have ended meanwhile.
                let _ = browser.kill();
                let _ = browser.wait();
                return Err(failed("it took too long"));
            }
            Err(error) => return Err(failed(&plain(&error))),
        }
    }
}

fn failed(why: &str) -> Stop {
    Stop::new(format!("the browser could not print: {why}"))
        .help("nothing was written; leave --pdf out, and print the pages from a browser")
}

/// A PDF without the time at which it was printed: the two dates of its information have the same one always.
fn without_time(mut pdf: Vec<u8>) -> Vec<u8> {
    for name in [&b"/CreationDate "[..], b"/ModDate "] {
        let at = pdf.windows(name.len()).position(|window| window == name);
        let date = at.and_then(|at| pdf.get_mut(at + name.len()..)?.get_mut(..TIME.len()));
        if let Some(date) = date.filter(|date| date.starts_with(b"(D:") && date.ends_with(b")")) {
            date.copy_from_slice(TIME);
        }
    }
    pdf
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_path_has_an_address() {
        assert_eq!(address(Path::new("/tmp/a#b/ü?.html")), "file:///tmp/a%23b/%C3%BC%3F.html");
    }

    #[test]
    fn the_time_of_printing_is_taken_out() {
        let pdf =
            |time: &str| format!("%PDF\n/CreationDate (D:{time}+00'00')\n/ModDate (D:{time}+00'00')>>\nx").into_bytes();
        assert_eq!(without_time(pdf("20261126183333")), without_time(pdf("20270101000001")));
        assert_eq!(without_time(pdf("20261126183333")), pdf("20000101000000"));
        assert_eq!(without_time(b"no dates".to_vec()), b"no dates");
        assert_eq!(without_time(b"/ModDate (D:1".to_vec()), b"/ModDate (D:1");
    }
}
