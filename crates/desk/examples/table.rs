//! Opens the desk by itself: `cargo run -p hangtrue-desk --example table [FILE]`.

fn main() {
    let file = std::env::args_os().nth(1).map(Into::into);
    if let Err(why) = hangtrue_desk::open(file) {
        eprintln!("{why}");
        std::process::exit(1);
    }
}
