//! Paths as `include` may write them.

use super::load::{REGISTER_FILE, SHARED};

/// A path as `include` may name it, relative to the site's folder: no way out of it but into the shared parts.
pub(crate) fn normalise(written: &str) -> Result<String, PathFault> {
    if written.contains('\\') {
        return match normalise(&written.replace('\\', "/")) {
            Ok(path) => Err(PathFault::Written(path)),
            Err(fault) => Err(fault),
        };
    }
    if written.is_empty() || written.contains([':', '\0']) || written.starts_with('/') {
        return Err(PathFault::NotRelative);
    }
    let (prefix, rest) = written.strip_prefix(SHARED).map_or(("", written), |rest| (SHARED, rest));
    let (mut steps, mut goes_up) = (Vec::new(), false);
    for step in rest.split('/').filter(|step| !step.is_empty() && *step != ".") {
        if step != ".." {
            steps.push(step);
        } else if steps.pop().is_some() {
            goes_up = true;
        } else {
            return Err(PathFault::LeavesSite);
        }
    }
    if steps.is_empty() {
        return Err(PathFault::NotRelative);
    }
    match format!("{prefix}{}", steps.join("/")) {
        path if path == REGISTER_FILE => Err(PathFault::Register),
        path if goes_up => Err(PathFault::Written(path)),
        path => Ok(path),
    }
}

/// Why a path may not be included.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum PathFault {
    /// Absolute, empty, or with characters of another system's paths.
    NotRelative,
    /// With `\` between its folders, or up again on its way: what it means.
    Written(String),
    /// The register, which is read by itself.
    Register,
    /// It climbs out of the site's folder.
    LeavesSite,
}

impl PathFault {
    /// What is wrong with a path that was written, behind it: "leads out of the site's folder".
    pub(crate) fn words(&self, written: &str) -> &'static str {
        match self {
            _ if written.is_empty() => "names no file",
            Self::NotRelative => "is not a relative path",
            Self::Register => "is that of the register",
            Self::LeavesSite => "leads out of the site's folder",
            Self::Written(_) if written.contains('\\') => "has another mark than / between its folders",
            Self::Written(_) => "goes into a folder and up again",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_stays_in_the_site_or_the_shared_parts() {
        assert_eq!(normalise("wiring/ground.kdl"), Ok("wiring/ground.kdl".into()));
        assert_eq!(normalise("./a//b.kdl"), Ok("a/b.kdl".into()));
        assert_eq!(normalise("../parts/generic.kdl"), Ok("../parts/generic.kdl".into()));
        for out in ["../../etc/passwd", "../other/x.kdl", "a/../../b.kdl", "../parts/../x.kdl"] {
            assert_eq!(normalise(out), Err(PathFault::LeavesSite), "{out}");
        }
        for odd in ["/etc/passwd", "", "C:x.kdl", "C:\\x.kdl", "../parts/", "."] {
            assert_eq!(normalise(odd), Err(PathFault::NotRelative), "{odd}");
        }
        for (other, meant) in [("a\\b.kdl", "a/b.kdl"), ("a/../b.kdl", "b.kdl"), ("..\\parts\\x.kdl", "../parts/x.kdl")]
        {
            assert_eq!(normalise(other), Err(PathFault::Written(meant.into())), "{other}");
        }
        for register in ["./register.kdl", "a/../register.kdl", "a\\..\\register.kdl"] {
            assert_eq!(normalise(register), Err(PathFault::Register), "{register}");
        }
    }
}
