"""Watches the program by strace while it compiles a site twice and checks it: which files it opens, changes and removes, and
that it runs no program and opens no socket. Whatever lies outside of the site, the shared parts, the packet and what the
system loads with every program fails. The one argument is the program."""

import collections
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

# What the dynamic loader and the runtime of the language open: before the program begins, and for how many cores there are.
SYSTEM = re.compile(
    r"/etc/ld\.so\.(cache|preload)|/(usr/)?lib(64)?/.*\.so[.0-9]*|/proc/\d+/(maps|cgroup|mountinfo)"
    r"|/sys/fs/cgroup/.*|/proc/sys/vm/overcommit_memory"
)
CALL = re.compile(r"^\d+ +(?P<call>\w+)\((?P<rest>.*)\) += (?P<result>-?\d+)(<(?P<opened>[^>]*)>)?")
NAMED = re.compile(r'(?:(?:AT_FDCWD|\d+)<(?P<folder>[^>]*)>, )?"(?P<name>[^"]*)"')
OPEN = {"open", "openat", "openat2", "creat"}
CHANGE = {"rename", "renameat", "renameat2", "unlink", "unlinkat", "rmdir", "mkdir", "mkdirat", "link", "linkat", "symlink",
          "symlinkat", "chmod", "fchmodat", "chown", "fchownat", "truncate", "utimensat", "mknod", "mknodat"}
NEVER = {"fork", "vfork", "clone", "clone3", "execve", "execveat", "socket", "connect", "bind", "kill", "ptrace", "mount"}

# What may change.
CHANGES = {"packet", "register", "register's folder"}


def place(path, places):
    """Which of the places a path lies in."""
    for name, folder in places.items():
        if path == folder or path.startswith(folder + "/"):
            return name
    return "system" if SYSTEM.fullmatch(path) else None


def watch(command, cwd, places, seen):
    trace = cwd / "trace"
    watched = ["strace", "-f", "-y", "-s", "4096", "-o", str(trace), "-e", "trace=%file,%process,%network"]
    subprocess.run(watched + command, cwd=cwd, check=True, stdout=subprocess.DEVNULL)
    folders_above = {str(above) for folder in places.values() for above in pathlib.Path(folder).parents}
    wrong = []
    for nth, line in enumerate(trace.read_text().splitlines()):
        made = CALL.match(line)
        if not made or int(made["result"]) < 0:
            continue
        call, rest = made["call"], made["rest"]
        # A thread is no other process.
        if call in NEVER and "CLONE_THREAD" not in rest and nth > 0:
            wrong.append(line)
        elif call in OPEN:
            writes = re.search(r"O_(WRONLY|RDWR|CREAT|TRUNC)", rest) is not None
            where = place(made["opened"], places)
            if where is None and made["opened"] in folders_above and "O_DIRECTORY" in rest and not writes:
                where = "folders above"
            if where is None or (writes and where not in CHANGES):
                wrong.append(line)
            seen[where, "written" if writes else "opened"] += 1
        elif call in CHANGE:
            for name in NAMED.finditer(rest):
                where = place(str(pathlib.Path(name["folder"] or cwd) / name["name"]), places)
                if where not in CHANGES:
                    wrong.append(line)
                seen[where, call] += 1
    return wrong


with tempfile.TemporaryDirectory() as made:
    top = pathlib.Path(made).resolve()
    shutil.copytree("specs", top / "specs")
    site = top / "specs/garden-flat"
    (site / "register.kdl").unlink()
    # The first that fits. What may change in the site's folder is the register, and the folder that it is written in.
    places = {
        "register": str(site / "register.kdl"),
        "register's folder": str(site / ".loopwright-register.kdl"),
        "packet": str(top / "out"),
        "shared parts": str(top / "specs/parts"),
        "site": str(site),
    }
    program = str(pathlib.Path(sys.argv[1]).resolve())
    seen = collections.Counter()
    for words in [["compile", "--out", "out"], ["compile", "--out", "out"], ["check"]]:
        command = [program, words[0], "specs/garden-flat", *words[1:]]
        wrong = watch(command, top, places, seen)
        if wrong:
            sys.exit(f"{' '.join(words)} touches what is none of its business:\n" + "\n".join(wrong))
    assert seen["packet", "written"] > 10 and seen["site", "opened"] > 1, seen
    for (where, what), count in sorted(seen.items()):
        print(f"{where}: {what} {count} times")
