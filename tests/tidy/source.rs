//! A source file as tokens: the paths that its code names and the items that it makes public. Its tests are left out.
//!
//! Tokens, not lines: a `use` may go over many of them. Tokens, not a syntax tree: that knows nothing of what stands in a
//! macro's parentheses.

use std::path::Path;

use proc_macro2::{Delimiter, Span, TokenStream, TokenTree};

/// A path that is named, `use` trees written out. What is ours begins with `crate`, whether by `self`, `super` or in full;
/// a macro's last name ends with `!`.
#[derive(Debug)]
pub struct Named {
    pub line: usize,
    pub path: Vec<String>,
}

/// A public function, type, constant or module, or a name that is given on.
#[derive(Debug)]
pub struct Item {
    pub line: usize,
    pub name: String,
    /// The module that it stands in; `None` for what stands in an `impl`.
    pub module: Option<String>,
}

/// What is in a file.
#[derive(Debug, Default)]
pub struct Source {
    pub named: Vec<Named>,
    pub items: Vec<Item>,
}

/// Where the reading is: the module, and whether the next braces, or those around, are an `impl`'s.
#[derive(Clone)]
struct Place {
    module: Vec<String>,
    in_impl: bool,
}

impl Source {
    /// Reads the text of the file at `path`, which is relative to the folder that `crate` stands for.
    pub fn read(path: &Path, text: &str) -> Self {
        let mut module: Vec<String> =
            path.with_extension("").iter().map(|name| name.to_string_lossy().into_owned()).collect();
        module.pop_if(|last| ["mod", "lib", "main"].contains(&last.as_str()));
        module.insert(0, "crate".into());
        let tokens: TokenStream = text.parse().unwrap_or_else(|fault| panic!("{}: {fault}", path.display()));
        let mut source = Self::default();
        source.walk(tokens, Place { module, in_impl: false });
        source
    }

    fn walk(&mut self, tokens: TokenStream, around: Place) {
        let mut place = around.clone();
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let mut rest = tokens.as_slice();
        while let Some((first, after)) = rest.split_first() {
            rest = match first {
                TokenTree::Punct(mark) if mark.as_char() == '#' => self.attribute(after, &place),
                TokenTree::Ident(word) if *word == "pub" => self.public(after, &place),
                TokenTree::Ident(word) if *word == "mod" => self.inline_module(after, &place),
                TokenTree::Ident(word) if *word == "impl" => {
                    place.in_impl = true;
                    after
                }
                TokenTree::Ident(_) => self.path(rest, &[], &place),
                TokenTree::Group(group) => {
                    self.walk(group.stream(), place.clone());
                    if group.delimiter() == Delimiter::Brace {
                        place.in_impl = around.in_impl;
                    }
                    after
                }
                TokenTree::Literal(literal) => {
                    self.captured(&literal.to_string(), line(literal.span()));
                    after
                }
                TokenTree::Punct(_) => after,
            };
        }
    }

    /// `{NAME}` in a text, which a macro may fill in.
    fn captured(&mut self, text: &str, line: usize) {
        for piece in text.split('{').skip(1) {
            let name: String = piece.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            self.named.push(Named { line, path: vec![name] });
        }
    }

    /// After `#`: what stands in the attribute counts too, and `cfg(test)` takes its item away.
    fn attribute<'t>(&mut self, rest: &'t [TokenTree], place: &Place) -> &'t [TokenTree] {
        let Some((TokenTree::Group(group), mut rest)) = rest.split_first() else { return rest };
        if group.stream().to_string().replace(' ', "") != "cfg(test)" {
            self.walk(group.stream(), place.clone());
            return rest;
        }
        // Imports and values end with a semicolon, everything else also with its braces.
        let mut braces_end = true;
        while let Some((first, after)) = rest.split_first() {
            rest = after;
            match first {
                TokenTree::Ident(word) if ["use", "const", "static", "type"].iter().any(|name| word == name) => {
                    braces_end = false;
                }
                TokenTree::Ident(word) if *word == "fn" => braces_end = true,
                TokenTree::Punct(mark) if mark.as_char() == ';' => break,
                TokenTree::Group(group) if group.delimiter() == Delimiter::Brace && braces_end => break,
                _ => {}
            }
        }
        rest
    }

    /// After `pub`: a public item, if it is one.
    fn public<'t>(&mut self, mut rest: &'t [TokenTree], place: &Place) -> &'t [TokenTree] {
        let module = (!place.in_impl).then(|| place.module[place.module.len() - 1].clone());
        while let [TokenTree::Ident(word), after @ ..] = rest {
            let word = word.to_string();
            rest = after;
            match (word.as_str(), after) {
                // `pub const fn` has one word more.
                ("const", [TokenTree::Ident(next), ..]) if *next == "fn" => {}
                ("async" | "unsafe", _) => {}
                ("use", _) => {
                    let known = self.named.len();
                    let rest = self.path(after, &[], place);
                    let given = self.named[known..].iter().filter_map(|named| Some((named.line, named.path.last()?)));
                    self.items.extend(given.map(|(line, name)| Item {
                        line,
                        name: name.clone(),
                        module: module.clone(),
                    }));
                    return rest;
                }
                (
                    "fn" | "struct" | "enum" | "trait" | "type" | "const" | "static" | "mod",
                    [TokenTree::Ident(name), after @ ..],
                ) => {
                    self.items.push(Item { line: line(name.span()), name: name.to_string(), module });
                    return after;
                }
                _ => break,
            }
        }
        rest
    }

    /// After `mod`: `super` in its braces is the module around it.
    fn inline_module<'t>(&mut self, rest: &'t [TokenTree], place: &Place) -> &'t [TokenTree] {
        if let [TokenTree::Ident(name), TokenTree::Group(group), rest @ ..] = rest {
            let mut inner = place.clone();
            inner.module.push(name.to_string());
            self.walk(group.stream(), inner);
            return rest;
        }
        rest
    }

    /// A path from its first name on, behind `before`, and what comes after it.
    fn path<'t>(&mut self, mut rest: &'t [TokenTree], before: &[String], place: &Place) -> &'t [TokenTree] {
        let mut path = before.to_vec();
        let mut at = 1;
        loop {
            match rest {
                [TokenTree::Ident(word), after @ ..] => {
                    at = line(word.span());
                    path.push(word.to_string());
                    rest = after;
                }
                [TokenTree::Group(group), after @ ..] if group.delimiter() == Delimiter::Brace => {
                    self.branches(group.stream(), &path, place);
                    return after;
                }
                [TokenTree::Punct(mark), after @ ..] if mark.as_char() == '*' && !path.is_empty() => {
                    path.push("*".into());
                    rest = after;
                    break;
                }
                _ => break,
            }
            let [TokenTree::Punct(one), TokenTree::Punct(other), after @ ..] = rest else { break };
            if (one.as_char(), other.as_char()) != (':', ':') {
                break;
            }
            rest = after;
        }
        if let [TokenTree::Punct(mark), ..] = rest
            && mark.as_char() == '!'
            && let Some(last) = path.last_mut()
        {
            last.push('!');
        }
        self.named.push(Named { line: at, path: resolved(path, &place.module) });
        rest
    }

    /// `{a, b::c}` behind `before`.
    fn branches(&mut self, tokens: TokenStream, before: &[String], place: &Place) {
        let tokens: Vec<TokenTree> = tokens.into_iter().collect();
        let branches = tokens.split(|token| matches!(token, TokenTree::Punct(mark) if mark.as_char() == ','));
        for branch in branches.filter(|branch| !branch.is_empty()) {
            self.path(branch, before, place);
        }
    }
}

fn line(span: Span) -> usize {
    span.start().line
}

/// The same path from `crate` on, where it begins with `self` or `super`.
fn resolved(path: Vec<String>, module: &[String]) -> Vec<String> {
    let ups = path.iter().take_while(|word| *word == "super").count();
    let here = usize::from(path.first().is_some_and(|word| word == "self"));
    if ups + here == 0 || path.len() == 1 {
        return path;
    }
    let top = &module[..module.len().saturating_sub(ups)];
    top.iter().chain(&path[ups + here..]).cloned().collect()
}

#[cfg(test)]
fn paths(path: &str, text: &str) -> Vec<String> {
    let source = Source::read(Path::new(path), text);
    source.named.into_iter().map(|named| named.path).filter(|path| path.len() > 1).map(|path| path.join("::")).collect()
}

#[test]
fn imports_are_seen_however_they_are_written() {
    let seen = |text: &str| paths("checks/loops/open.rs", text);
    assert_eq!(
        seen("use crate::{\n    calc::{Spread, power as p},\n    emit,\n};"),
        ["crate::calc::Spread", "crate::calc::power", "crate::emit"]
    );
    assert_eq!(seen("use super::super::super::views::{self};"), ["crate::views::self"]);
    assert_eq!(seen("mod inner { use super::super::{a, super::b}; }"), ["crate::checks::loops::a", "crate::checks::b"]);
    assert_eq!(seen("use std::{fs, env};"), ["std::fs", "std::env"]);
    assert_eq!(seen("use {kdl::Node, std::{io::{self, Write}}};"), ["kdl::Node", "std::io::self", "std::io::Write"]);
    assert_eq!(
        seen("fn f() -> crate::diag::Sink { crate::emit::x::<u8>(1) }"),
        ["crate::diag::Sink", "crate::emit::x"]
    );
    assert_eq!(seen("println!(\"{}\", crate::emit::y!(super::z))"), ["crate::emit::y!", "crate::checks::loops::z"]);
    assert_eq!(seen("#[derive(thiserror::Error)] struct S;"), ["thiserror::Error"]);
    assert_eq!(seen("use super::*;"), ["crate::checks::loops::*"]);
    assert_eq!(seen("// use crate::emit;\nconst A: &str = \"crate::emit\";"), [""; 0]);
    assert_eq!(paths("calc/mod.rs", "use self::a::b; use super::c;"), ["crate::calc::a::b", "crate::c"]);
}

#[test]
fn only_tests_are_left_out() {
    let seen = |text: &str| paths("calc/a.rs", text);
    assert_eq!(seen("#[cfg(test)] mod tests; use crate::b::c;"), ["crate::b::c"]);
    assert_eq!(
        seen("#[cfg(test)] #[path = \"x\"] mod tests { use crate::a::b; } fn f() { crate::c::d() }"),
        ["crate::c::d"]
    );
    assert_eq!(seen("#[cfg(test)] use crate::{a::b, c::d}; use crate::e::f;"), ["crate::e::f"]);
    assert_eq!(seen("#[cfg(test)] const fn f() { crate::a::b() } use crate::e::f;"), ["crate::e::f"]);
    assert_eq!(seen("#[cfg(unix)] use crate::a::b;"), ["crate::a::b"]);
}

#[test]
fn public_items_are_found_by_name() {
    let text = "pub fn a() {} pub(crate) fn b() {} fn c() -> impl D { } pub struct D { pub e: u8 }
                impl D { pub const fn g(&self) {} } pub const H: u8 = 1; pub use x::{I, y::J}; pub mod k;
                pub unsafe fn l() {} #[cfg(test)] pub fn m() {}";
    let items = Source::read(Path::new("n/mod.rs"), text).items;
    let (free, associated): (Vec<Item>, Vec<Item>) = items.into_iter().partition(|item| item.module.is_some());
    assert!(free.iter().all(|item| item.module.as_deref() == Some("n")));
    assert_eq!(free.iter().map(|item| item.name.as_str()).collect::<Vec<_>>(), ["a", "D", "H", "I", "J", "k", "l"]);
    assert_eq!(associated.iter().map(|item| item.name.as_str()).collect::<Vec<_>>(), ["g"]);
}
