//! The command `endsmeet`.

#![forbid(unsafe_code)]

fn main() -> std::process::ExitCode {
    endsmeet::cli::main()
}
