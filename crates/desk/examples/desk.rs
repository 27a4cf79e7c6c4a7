//! Opens the desk with the shipped library and the example: `cargo run -p knockon-desk --example desk [sheet.json]`.

use std::process::ExitCode;

fn main() -> ExitCode {
    let example = match knockon_store::sheets::parse("the example", knockon_store::library::example()) {
        Ok(sheet) => sheet,
        Err(why) => {
            eprintln!("{why}");
            return ExitCode::FAILURE;
        }
    };
    let file = std::env::args_os().nth(1).map(Into::into);
    let start = knockon_desk::Start { file, catalogue: knockon_store::library::shipped(), example };
    match knockon_desk::run(start) {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            eprintln!("{why}");
            ExitCode::from(3)
        }
    }
}
