//! Changes to a site: bytes, tokens, numbers, strings, nodes, files.
//!
//! What a token or a node is, is told roughly here and not by the compiler: the texts are broken, and the compiler is what
//! is tested.

use std::collections::BTreeSet;
use std::ops::Range;

use crate::Files;
use crate::random::Random;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Blank,
    Mark,
    Text,
    Number,
    Word,
}

/// Every byte of a text is in one token.
fn tokens(text: &[u8]) -> Vec<(Kind, Range<usize>)> {
    let mut tokens = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let start = at;
        at += 1;
        let run = |at: usize, wanted: &dyn Fn(u8) -> bool| at + text[at..].iter().take_while(|b| wanted(**b)).count();
        let kind = match text[start] {
            b'"' => {
                while at < text.len() && !b"\"\n".contains(&text[at]) {
                    at += if text[at] == b'\\' { 2 } else { 1 };
                }
                at += 1;
                Kind::Text
            }
            b' ' => {
                at = run(at, &|b| b == b' ');
                Kind::Blank
            }
            b'/' if text.get(at) == Some(&b'/') => {
                at = run(at, &|b| b != b'\n');
                Kind::Blank
            }
            b'\n' | b';' | b'{' | b'}' | b'(' | b')' | b'=' => Kind::Mark,
            first => {
                at = run(at, &|b| !b" \n;{}()=\"".contains(&b));
                if first.is_ascii_digit() || b"-+.".contains(&first) { Kind::Number } else { Kind::Word }
            }
        };
        at = at.min(text.len());
        tokens.push((kind, start..at));
    }
    tokens
}

/// Every node, those in others too: from its name to the end of its line or of its children.
pub fn nodes(text: &[u8]) -> Vec<Range<usize>> {
    let tokens = tokens(text);
    let mut open: Vec<(usize, usize)> = Vec::new();
    let mut nodes = Vec::new();
    let (mut depth, mut begins) = (0_usize, true);
    for (kind, Range { start, end }) in tokens {
        match (kind, text[start]) {
            (Kind::Blank, _) => {}
            (Kind::Mark, b'{') => (depth, begins) = (depth + 1, true),
            (Kind::Mark, mark @ (b'\n' | b';' | b'}')) => {
                // A closing brace ends the last node within, if no line's end did, and the node that it belongs to.
                while let Some((from, _)) = open.pop_if(|(_, at)| *at >= depth) {
                    nodes.push(from..start);
                }
                if mark == b'}' {
                    depth = depth.saturating_sub(1);
                    while let Some((from, _)) = open.pop_if(|(_, at)| *at >= depth) {
                        nodes.push(from..end);
                    }
                }
                begins = true;
            }
            (Kind::Word, _) if begins => {
                open.push((start, depth));
                begins = false;
            }
            _ => begins = false,
        }
    }
    nodes.extend(open.into_iter().map(|(from, _)| from..text.len()));
    nodes.sort_by_key(|node| (node.start, node.end));
    nodes
}

/// Pieces of the corpus, to be put elsewhere.
pub struct Scraps {
    words: Vec<Vec<u8>>,
    numbers: Vec<Vec<u8>>,
    texts: Vec<Vec<u8>>,
    nodes: Vec<Vec<u8>>,
}

/// Strings that are seldom thought of, a line each in the spelling of JSON.
const NAUGHTY: &str = include_str!("naughty.txt");

const EXTREMES: &str = "0 -0 -1 1 2 0.0 0.1 1e-300 5e-324 1e308 1.8e308 1e999 -1e308 1e-9 1e9 255 256 65535 65536 4294967295 \
    4294967296 9007199254740993 9223372036854775807 18446744073709551616 -9223372036854775809 0xffffffff \
    0b1 0o7 1_000 #inf #-inf #nan";

const BYTES: &[u8] = b"\0\n\r\t \"\\/*-#{}()=;,.0aZ~\x7f\x80\xbf\xc3\xe2\xef\xf0\xff";

impl Scraps {
    pub fn of(corpus: &[Files]) -> Self {
        let texts = || corpus.iter().flat_map(Files::values);
        let sorted = |pieces: BTreeSet<&[u8]>| pieces.into_iter().map(<[u8]>::to_vec).collect();
        let of_kind = |wanted: Kind| {
            let pieces = texts().flat_map(|text| tokens(text).into_iter().map(move |(kind, at)| (kind, &text[at])));
            sorted(pieces.filter(|(kind, _)| *kind == wanted).map(|(_, piece)| piece).collect())
        };
        let nodes = texts().flat_map(|text| nodes(text).into_iter().map(move |at| &text[at]));
        Self {
            words: of_kind(Kind::Word),
            numbers: of_kind(Kind::Number),
            texts: of_kind(Kind::Text),
            nodes: sorted(nodes.filter(|node| node.len() < 3000).collect()),
        }
    }

    fn alike(&self, random: &mut Random, kind: Kind) -> Vec<u8> {
        let from = match kind {
            Kind::Text if random.one_in(2) => return naughty(random),
            Kind::Number if random.one_in(2) => return one_of(random, EXTREMES.split(' ')),
            Kind::Text => &self.texts,
            Kind::Number => &self.numbers,
            Kind::Word | Kind::Blank | Kind::Mark => &self.words,
        };
        random.pick(from).cloned().unwrap_or_default()
    }
}

fn one_of<'a>(random: &mut Random, of: impl Iterator<Item = &'a str>) -> Vec<u8> {
    random.pick(&of.collect::<Vec<_>>()).unwrap().bytes().collect()
}

/// A naughty string in the spelling of a spec, mostly with what must be escaped escaped.
fn naughty(random: &mut Random) -> Vec<u8> {
    let line = one_of(random, NAUGHTY.lines().filter(|line| line.starts_with('"')));
    let text: String = serde_json::from_slice(&line).unwrap();
    let careless = random.one_in(4);
    let spelled = |c: char| match c {
        c if careless => c.to_string(),
        '"' | '\\' => format!("\\{c}"),
        c if c.is_control() => format!("\\u{{{:x}}}", u32::from(c)),
        c => c.to_string(),
    };
    format!("\"{}\"", text.chars().map(spelled).collect::<String>()).into_bytes()
}

/// One change to one of the files whose path begins with `focus`, or to any where there is none.
pub fn change(random: &mut Random, files: &mut Files, focus: Option<&str>, scraps: &Scraps) {
    let mut paths: Vec<String> =
        files.keys().filter(|path| focus.is_none_or(|focus| path.starts_with(focus))).cloned().collect();
    if paths.len() > 1 && !random.one_in(8) {
        paths.retain(|path| !path.contains("../parts/"));
    }
    let Some(path) = random.pick(&paths).cloned() else { return };
    let other = random.pick(&files.keys().cloned().collect::<Vec<_>>()).cloned().unwrap_or_default();
    let elsewhere = files[&other].clone();
    let mut text = files.remove(&path).unwrap_or_default();
    match random.below(16) {
        0 => bytes(random, &mut text),
        1..=2 => token(random, &mut text),
        3..=8 => value(random, &mut text, scraps),
        9..=14 => node(random, &mut text, &elsewhere, scraps),
        _ => match random.below(5) {
            0 => text.truncate(random.below(text.len())),
            1 => text.clear(),
            2 => text.extend(elsewhere),
            3 => text = elsewhere,
            _ => {
                let times = 1 + random.below(3);
                text = text.repeat(times);
            }
        },
    }
    text.truncate(400_000);
    files.insert(path, text);
}

fn bytes(random: &mut Random, text: &mut Vec<u8>) {
    for _ in 0..=random.below(4) {
        let at = random.below(text.len());
        let byte = *random.pick(BYTES).unwrap();
        match random.below(4) {
            0 if at < text.len() => text[at] = byte,
            1 if at < text.len() => drop(text.remove(at)),
            2 if at < text.len() => text[at] ^= 1 << random.below(8),
            _ => text.insert(at, byte),
        }
    }
}

fn token(random: &mut Random, text: &mut Vec<u8>) {
    let tokens = tokens(text);
    let (Some((_, one)), Some((_, two))) = (random.pick(&tokens), random.pick(&tokens)) else { return };
    match random.below(3) {
        0 => drop(text.drain(one.clone())),
        1 => {
            let copy = text[one.clone()].to_vec();
            let times = if random.one_in(20) { 500 } else { 1 };
            text.splice(two.start..two.start, copy.repeat(times));
        }
        _ => swap(text, one.clone(), two.clone()),
    }
}

/// A value or word becomes another of its kind, from a list, from the corpus, or from the same file.
fn value(random: &mut Random, text: &mut Vec<u8>, scraps: &Scraps) {
    let tokens: Vec<_> = tokens(text).into_iter().filter(|(kind, _)| *kind > Kind::Mark).collect();
    let Some((kind, at)) = random.pick(&tokens).cloned() else { return };
    if random.one_in(2) {
        text.splice(at, scraps.alike(random, kind));
    } else {
        let same: Vec<_> = tokens.into_iter().filter(|(other, _)| *other == kind).collect();
        let (_, other) = random.pick(&same).unwrap().clone();
        if random.one_in(2) {
            swap(text, at, other);
        } else {
            let copy = text[other].to_vec();
            text.splice(at, copy);
        }
    }
}

fn node(random: &mut Random, text: &mut Vec<u8>, elsewhere: &[u8], scraps: &Scraps) {
    let nodes = nodes(text);
    let (Some(one), Some(two)) = (random.pick(&nodes).cloned(), random.pick(&nodes).cloned()) else { return };
    match random.below(6) {
        0 => drop(text.drain(one)),
        1 => {
            let mut copy = text[one].to_vec();
            copy.push(b'\n');
            let times = if random.one_in(30) { 200 } else { 1 + random.below(3) };
            text.splice(two.start..two.start, copy.repeat(times));
        }
        2 => swap(text, one, two),
        3 => {
            let mut copy = random.pick(&scraps.nodes).cloned().unwrap_or_default();
            copy.push(b'\n');
            text.splice(one.start..one.start, copy);
        }
        4 => {
            let there = self::nodes(elsewhere);
            let mut copy = random.pick(&there).map(|at| elsewhere[at.clone()].to_vec()).unwrap_or_default();
            copy.push(b'\n');
            text.splice(one.start..one.start, copy);
        }
        // Into the braces of another, or in braces where there were none.
        _ => {
            let copy = text[two].to_vec();
            let end = if text[..one.end].ends_with(b"}") { one.end - 1 } else { one.end };
            let piece = if end == one.end { [b" { ", &copy[..], b" }"].concat() } else { [&copy[..], b"\n"].concat() };
            text.splice(end..end, piece);
        }
    }
}

/// Two pieces change places; nothing happens where one is in the other.
fn swap(text: &mut Vec<u8>, one: Range<usize>, two: Range<usize>) {
    let (first, second) = if one.start < two.start { (one, two) } else { (two, one) };
    if first.end <= second.start {
        let (early, late) = (text[first.clone()].to_vec(), text[second.clone()].to_vec());
        text.splice(second, early);
        text.splice(first, late);
    }
}
