//! The command `endsmeet`.

fn main() -> std::process::ExitCode {
    endsmeet::cli::main()
}
