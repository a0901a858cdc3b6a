//! The program: runs the command line.

use std::process::ExitCode;

fn main() -> ExitCode {
    lineside::cli::main()
}

/// Looks whether there is a standard output, before the runtime opens the null device in its place and every result
/// vanishes there unsaid. Where this cannot be done, a closed output goes unnoticed as before.
#[cfg(any(target_os = "linux", target_os = "macos"))]
mod before_the_runtime {
    #[expect(
        unsafe_code,
        reason = "the only way to run before the runtime; it makes one system call and sets one flag"
    )]
    #[cfg_attr(target_os = "linux", unsafe(link_section = ".init_array"))]
    #[cfg_attr(target_os = "macos", unsafe(link_section = "__DATA,__mod_init_func"))]
    #[used]
    static LOOK: extern "C" fn() = look;

    extern "C" fn look() {
        if rustix::io::fcntl_getfd(rustix::stdio::stdout()).is_err() {
            lineside::cli::output_is_closed();
        }
    }
}
