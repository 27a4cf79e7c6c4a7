//! Has the crate built anew when a file of the library comes or goes: what is built in is the folder as it was.

fn main() {
    println!("cargo::rerun-if-changed=../../assets/library");
}
