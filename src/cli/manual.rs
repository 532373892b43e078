//! `loopwright completions` and `loopwright man`: what shells and `man` make of the arguments.

use std::io;

use clap::CommandFactory;
use clap_complete::Shell;

use super::screen::Screen;
use super::{Arguments, Exit, Stop, plain};

/// The name of the program.
const NAME: &str = env!("CARGO_PKG_NAME");

/// Prints what a shell reads to complete commands.
pub(super) fn completions(screen: &mut Screen, shell: Shell) -> Result<Exit, Stop> {
    let mut text = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), NAME, &mut text);
    printed(screen, &text)
}

/// Prints the manual page: the program's, then that of each command.
pub(super) fn page(screen: &mut Screen) -> Result<Exit, Stop> {
    let mut text = Vec::new();
    written(&mut text).map_err(|error| Stop::new(format!("cannot write the manual page: {}", plain(&error))))?;
    printed(screen, &text)
}

fn written(text: &mut Vec<u8>) -> io::Result<()> {
    let command = Arguments::command();
    let page = clap_mangen::Man::new(command.clone());
    page.render_title(text)?;
    page.render_name_section(text)?;
    page.render_synopsis_section(text)?;
    page.render_description_section(text)?;
    page.render_options_section(text)?;
    // Built as a whole, for a command's options may conflict with the program's; those are told once, above.
    let mut built = command;
    built.build();
    for one in built.get_subcommands().filter(|one| one.get_name() != "help") {
        let name = format!("{NAME} {}", one.get_name());
        let own = one.clone().mut_args(|arg| if arg.is_global_set() { arg.hide(true) } else { arg });
        let of = clap_mangen::Man::new(own.bin_name(name.clone()));
        text.extend_from_slice(format!(".SH \"{}\"\n", name.to_uppercase()).as_bytes());
        let mut sections = Vec::new();
        of.render_description_section(&mut sections)?;
        of.render_synopsis_section(&mut sections)?;
        of.render_options_section(&mut sections)?;
        // Its sections are parts of the page's section on the command.
        text.extend_from_slice(
            String::from_utf8_lossy(&sections).replace("\n.SH ", "\n.SS ").replacen(".SH ", ".SS ", 1).as_bytes(),
        );
    }
    page.render_extra_section(text)?;
    page.render_version_section(text)
}

fn printed(screen: &mut Screen, text: &[u8]) -> Result<Exit, Stop> {
    screen.print(&String::from_utf8_lossy(text))?;
    Ok(Exit::Clean)
}
