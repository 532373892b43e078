//! Examples that the help of the commands ends with.

pub(super) const LSP_EXAMPLES: &str = "\
Examples:
  loopwright lsp
      is started by an editor, and speaks the Language Server Protocol with it

How to set an editor up is said in specs/EDITORS.md.";

pub(super) const READINGS_EXAMPLES: &str = "\
Examples:
  loopwright readings specs/alder-mill --date 2027-04-02 >> specs/alder-mill/readings.kdl";

pub(super) const EXAMPLES: &str = "\
Examples:
  loopwright check specs/alder-mill
      check one site
  loopwright compile specs --out paper
      write the packets of all sites below specs
  loopwright explain --list
      what is checked

Exit codes:
  0  no error found
  1  a spec has errors
  2  could not run: bad arguments, no such path, output not writable";

pub(super) const CHECK_EXAMPLES: &str = "\
Examples:
  loopwright check specs/alder-mill
  loopwright check specs --format short | grep error
  loopwright check specs/alder-mill --fix
      makes the changes shown that are certain
  loopwright check specs --format json > findings.json";

pub(super) const COMPILE_EXAMPLES: &str = "\
Examples:
  loopwright compile specs/alder-mill
      writes out/alder-mill/
  loopwright compile specs --out paper
      writes paper/<site>/ for every site below specs
  loopwright compile specs --frozen
      in CI: fails where a register is not up to date
  loopwright compile specs/alder-mill --since HEAD~1
  loopwright compile specs/alder-mill --for electrician
      joins their sheets in for-electrician.html

Labels and landings are kept in register.kdl beside site.kdl: commit it. With --since, a bar stands beside every row \
that differs, and the packet holds the work order. A packet is written whole or not at all. Files that the program did not write, or that \
were changed by hand since, are never replaced: it names them and writes nothing.";

pub(super) const WATCH_EXAMPLES: &str = "\
Examples:
  loopwright watch specs/alder-mill
      prints the address to open
  loopwright watch specs/alder-mill --port 4100

The page loads again by itself, with what was found at its top. While the spec has errors the last packet stays. \
Nothing is written: register and packet come with `loopwright compile`.";

pub(super) const WHY_EXAMPLES: &str = "\
Examples:
  loopwright why specs/alder-mill zone=7
  loopwright why specs/alder-mill zone=7 --format json
  loopwright why specs/alder-mill supply=main/aux
      current, and the volts of the worst device
  loopwright why specs/alder-mill battery=main
      amp-hours and hours
  loopwright why specs/alder-mill bus=main/data
      places, lengths, terminators, volts

Every element of the loop is printed with its formula, its source and its place in the spec, \
then the sum in each state. Of the others, every figure of the power and bus sheets is. It is answered also where the spec has errors elsewhere.";

pub(super) const DIAGNOSE_EXAMPLES: &str = "\
Examples:
  loopwright diagnose specs/alder-mill zone=7 --ohms 1960
      both leads off the board
  loopwright diagnose specs/alder-mill zone=7 --ohms 1.96k
  loopwright diagnose specs/alder-mill zone=7 --ohms OL
      the meter shows no connection
  loopwright diagnose specs/alder-mill zone=7 --volts 2.31
      at the terminals, leads on

It lists the states and cable faults that read so, nearest first, and what else would explain \
the reading: a short at a distance, a leak, a bad joint, another or a second resistor, another \
unit. Then it says what to measure next: what to lift where, and what each outcome means.";

pub(super) const EVENT_EXAMPLES: &str = "\
Examples:
  loopwright event 0000 18 1131 01 015 8
  loopwright event 1131 01 015 --site specs/alder-mill
      names the zone and the area
  loopwright event --code 131 --area 1 --zone 15
      writes the line
  loopwright event --code 131 --area 1 --zone 15 --restored

The check digit is verified where there is one. The account is neither repeated nor stored; a line \
that is written has 0000 in its place.";

pub(super) const DIFF_EXAMPLES: &str = "\
Examples:
  loopwright diff
      the last commit against the site in this folder
  loopwright diff specs/alder-mill
      the last commit against the files on disk
  loopwright diff HEAD~3 specs/alder-mill
      three commits back against the files on disk
  loopwright diff v1 v2 specs/alder-mill
      two tags; so does v1..v2
  loopwright diff HEAD~3:specs/mill HEAD:specs/alder-mill
  loopwright diff old-folder new-folder
  loopwright diff main..remodel specs/alder-mill --as html > work-order.html

What exists on disk is a path; everything else is a revision. Order, spacing, comments and files are no change. \
The working tree is read only where a path is compared; revisions are read without touching it.

Exit codes: 0 compared, 1 compared, but one of the two has errors, 2 could not compare.";

pub(super) const NEW_EXAMPLES: &str = "\
Examples:
  loopwright new cottage
      a folder with a site, parts and more
  loopwright new cottage --from openings.csv
  loopwright new specs/barn
      one more site beside specs/parts

A table looks like this; its columns may stand in any order, others beside them:
  zone,room,opening,kind
  1,Hall,Front door,door
  2,Kitchen,Kitchen window,window
  2,Kitchen,Skylight,hatch
  3,Hall,Motion by the stair,motion
What it does not say, such as the length of each cable, is left out: \
`loopwright check` asks for it. Kinds: door, window, hatch, roller door, motion, \
glass break, vibration, floor mat, smoke, heat, carbon monoxide, water, panic \
button. A zone is a number, a few words, or both; without one an opening is not \
watched.";

pub(super) const FMT_EXAMPLES: &str = "\
Examples:
  loopwright fmt specs/alder-mill
      the site with its includes and register
  loopwright fmt specs/parts/*.kdl
      these files
  loopwright fmt --check specs
      in CI: shows what would change
  loopwright fmt - < zones.kdl
      for an editor

Comments stay in their place, and texts byte for byte. Line breaks stay as well. \
Comments at line ends and tables of like nodes stay in columns. What is not \
understood stays as it is, with its lines. Each result is read again before it \
is written: were anything but white space to differ, the file is left alone.

Exit codes:
  0  laid out
  1  with --check something would change, or a file had to be left alone
  2  could not run";

pub(super) const TEXTCONV_EXAMPLES: &str = "\
Examples:
  loopwright textconv specs/alder-mill/zones-ground.kdl

To have `git diff` show zones instead of lines, write in .gitattributes
  *.kdl diff=loopwright
and tell git once, in the repository
  git config diff.loopwright.textconv 'loopwright textconv'
  git config difftool.loopwright.cmd 'loopwright textconv \"$LOCAL\" \"$REMOTE\"'";

pub(super) const EXPLAIN_EXAMPLES: &str = "\
Examples:
  loopwright explain bus-rate-missing
  loopwright explain opening-unwatched specs/alder-mill
      its findings, too
  loopwright explain --list
  loopwright explain --list --format short | grep warning";

pub(super) const REFERENCE_EXAMPLES: &str = "\
Examples:
  loopwright reference --tour
      where to start
  loopwright reference run
      one node
  loopwright reference --html > reference.html";

pub(super) const PORTFOLIO_EXAMPLES: &str = "\
Examples:
  loopwright portfolio specs
  loopwright portfolio specs --columns \"next due\",\"what is due\",title
  loopwright portfolio specs --only errors=0 --format json
  loopwright portfolio specs --csv > sites.csv
  loopwright portfolio specs --by-rule
      which rules find most, and where
  loopwright portfolio specs --html > sites.html
      a page to read and to print
  loopwright portfolio specs --since v1
      what changed in each, as `diff` counts it
  loopwright portfolio specs --cache .cache
      the next time only what differs is read
  loopwright portfolio specs --shard 2/8 --csv
      the second of eight machines

The folder of a cache may be removed at any time. In it nothing is touched that the program did not write.";

pub(super) const LIST_EXAMPLES: &str = "\
Examples:
  loopwright list cables specs/alder-mill
  loopwright list loops specs/alder-mill zone=7
  loopwright list cables specs/alder-mill --columns label,length,\"ends at\"
  loopwright list terminals specs/alder-mill board=panel GN
  loopwright list materials specs/alder-mill --csv > shopping.csv
  loopwright list loads specs/alder-mill --format json

A number in a column is that number; other text may be a part of the cell, in capitals or not.";
