# A toolchain for WebAssembly with clang and wasi-libc, as Debian has them (packages
# clang, lld, wasi-libc, libclang-rt-14-dev-wasm32). lib/wasm/build uses it.
set(CMAKE_SYSTEM_NAME Generic)
set(CMAKE_SYSTEM_PROCESSOR wasm32)
set(CMAKE_C_COMPILER clang)
set(CMAKE_C_COMPILER_TARGET wasm32-wasi)
set(CMAKE_AR llvm-ar-14)
set(CMAKE_RANLIB llvm-ranlib-14)
set(CMAKE_TRY_COMPILE_TARGET_TYPE STATIC_LIBRARY)
set(CMAKE_FIND_ROOT_PATH_MODE_PACKAGE ONLY)
# Nothing is installed, but folders have names all the same.
set(CMAKE_INSTALL_LIBDIR lib)
