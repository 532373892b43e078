//! The `loopwright` program: see [`loopwright::cli`].

fn main() -> std::process::ExitCode {
    loopwright::cli::main()
}
