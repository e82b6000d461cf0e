fn main() -> std::process::ExitCode {
    notchbook::cli::run()
}
