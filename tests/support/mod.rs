//! What several test files share.

#![allow(dead_code, unused_imports, reason = "each test file uses its own part")]
#![allow(unreachable_pub, reason = "a module of tests is no library")]

mod session;

pub use session::{Session, case_file};
