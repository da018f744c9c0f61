//! Prints the shapes of the drafted block over the survey sample.

fn main() {
    print!("{}", hangtrue_tests::block_figures::table());
}
