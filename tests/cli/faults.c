/* System calls that go wrong, to be preloaded into the program under test.
 *
 * The C library's streams call the system from within, past any function that
 * could be put before theirs. So the system itself sends the calls back: a
 * filter traps reads and writes, and with FAULTS_KILL every call on a file, but
 * for those of `faults_call`. The handler of the trap makes the call, shortens
 * it, or leaves it out and returns an error.
 *
 *     FAULTS_SHORT=N       no call moves more than N bytes
 *     FAULTS_INTERRUPT=N   every Nth read is interrupted by a signal (EINTR), and every
 *                          Nth write to a file that the program opened itself
 *     FAULTS_READ=N        the Nth read fails, and all after it
 *     FAULTS_WRITE=N       the Nth write to standard output does, and all after it
 *     FAULTS_ERRORS=1      every write to standard error does
 *     FAULTS_TEAR=N        the program is killed in the first longer write to a file
 *                          that it opened itself, when N bytes have got there
 *     FAULTS_FULL=N        files that the program opened itself have room for N bytes
 *                          altogether, then the disk is full
 *     FAULTS_KILL=N        the program is killed before the Nth call on a file, counted
 *                          from the first that may create one
 *     FAULTS_ERRNO=N       with this error; EIO without it
 *     FAULTS_PROCESS=N     the program takes this for the number of its process
 *
 * Calls are counted from 1. For Linux on x86-64 and 64-bit ARM. */
#define _GNU_SOURCE
#include <errno.h>
#include <fcntl.h>
#include <linux/audit.h>
#include <linux/filter.h>
#include <linux/seccomp.h>
#include <signal.h>
#include <stdatomic.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <sys/prctl.h>
#include <sys/syscall.h>
#include <ucontext.h>
#include <unistd.h>

long faults_call(long number, long a, long b, long c, long d, long e);
extern const char faults_called[]; /* where the system sees the call come from */

#if defined(__x86_64__)
#define ARCHITECTURE AUDIT_ARCH_X86_64
__asm__(".text\n.global faults_call\n.hidden faults_call\nfaults_call:\n"
        "mov %rdi, %rax\nmov %rsi, %rdi\nmov %rdx, %rsi\nmov %rcx, %rdx\nmov %r8, %r10\n"
        "mov %r9, %r8\nsyscall\n"
        ".global faults_called\n.hidden faults_called\nfaults_called:\nret\n");
#elif defined(__aarch64__)
#define ARCHITECTURE AUDIT_ARCH_AARCH64
__asm__(".text\n.global faults_call\n.hidden faults_call\nfaults_call:\n"
        "mov x8, x0\nmov x0, x1\nmov x1, x2\nmov x2, x3\nmov x3, x4\nmov x4, x5\nsvc #0\n"
        ".global faults_called\n.hidden faults_called\nfaults_called:\nret\n");
#else
#error "the registers of a call are not known here"
#endif

/* Those after the first two are trapped for FAULTS_KILL alone. */
static const int trapped[] = {
    SYS_read,      SYS_write,  SYS_openat,   SYS_close,     SYS_fstat,
    SYS_ftruncate, SYS_fsync,  SYS_flock,    SYS_pread64,   SYS_newfstatat,
    SYS_fchmod,    SYS_fchown, SYS_unlinkat, SYS_renameat2, SYS_mkdirat,
#ifdef SYS_rename
    SYS_open,      SYS_rename, SYS_unlink,   SYS_mkdir,
#endif
};
#define TRAPPED (sizeof trapped / sizeof *trapped)
#define TRAPPED_ALWAYS 2

static long most, interrupt_every, read_fails, write_fails, errors_fail, tears_at, room, full,
    kills_at, error, process;
static atomic_long reads, writes, file_writes, calls;

static long setting(const char *name, long otherwise) {
    const char *value = getenv(name);
    return value == NULL ? otherwise : strtol(value, NULL, 10);
}

static long faulty_read(long descriptor, long buffer, long size) {
    long number = atomic_fetch_add(&reads, 1) + 1;
    if (read_fails > 0 && number >= read_fails)
        return -error;
    if (interrupt_every > 0 && number % interrupt_every == 0)
        return -EINTR;
    return faults_call(SYS_read, descriptor, buffer, size, 0, 0);
}

static long faulty_write(long descriptor, long buffer, long size) {
    if (descriptor == STDOUT_FILENO) {
        long number = atomic_fetch_add(&writes, 1) + 1;
        if (write_fails > 0 && number >= write_fails)
            return -error;
    }
    if (descriptor == STDERR_FILENO && errors_fail > 0)
        return -error;
    if (descriptor > STDERR_FILENO && interrupt_every > 0 &&
        (atomic_fetch_add(&file_writes, 1) + 1) % interrupt_every == 0)
        return -EINTR;
    if (descriptor > STDERR_FILENO && tears_at > 0 && size > tears_at) {
        faults_call(SYS_write, descriptor, buffer, tears_at, 0, 0);
        raise(SIGKILL);
    }
    if (descriptor > STDERR_FILENO && full) {
        if (room == 0)
            return -ENOSPC;
        size = size < room ? size : room;
        room -= size;
    }
    return faults_call(SYS_write, descriptor, buffer, size, 0, 0);
}

static int may_create(int number, const long *arguments) {
#ifdef SYS_open
    if (number == SYS_open)
        return (arguments[1] & O_CREAT) != 0;
#endif
    return number == SYS_openat && (arguments[2] & O_CREAT) != 0;
}

/* Other programs at the same file are not disturbed: only the calls are counted. */
static void count_call(int number, const long *arguments) {
    if (kills_at == 0 || (calls == 0 && !may_create(number, arguments)))
        return;
    if (atomic_fetch_add(&calls, 1) + 1 == kills_at)
        raise(SIGKILL);
}

static long call(int number, long *arguments) {
    count_call(number, arguments);
    if ((number == SYS_read || number == SYS_write) && most > 0 && arguments[2] > most)
        arguments[2] = most;
    if (number == SYS_read)
        return faulty_read(arguments[0], arguments[1], arguments[2]);
    if (number == SYS_write)
        return faulty_write(arguments[0], arguments[1], arguments[2]);
    return faults_call(number, arguments[0], arguments[1], arguments[2], arguments[3],
                       arguments[4]);
}

static void on_call(int signal_number, siginfo_t *info, void *context) {
    ucontext_t *at = context;
    (void)signal_number;
#if defined(__x86_64__)
    greg_t *registers = at->uc_mcontext.gregs;
    long arguments[] = {registers[REG_RDI], registers[REG_RSI], registers[REG_RDX],
                        registers[REG_R10], registers[REG_R8]};
    registers[REG_RAX] = call(info->si_syscall, arguments);
#else
    __u64 *registers = at->uc_mcontext.regs;
    long arguments[] = {(long)registers[0], (long)registers[1], (long)registers[2],
                        (long)registers[3], (long)registers[4]};
    registers[0] = (__u64)call(info->si_syscall, arguments);
#endif
}

/* Stands before the C library's function of this name: a thread that blocked the
 * trap's signal would be ended by it. */
__attribute__((visibility("default"))) int
sigmask_but_trap(int how, const sigset_t *set, sigset_t *old) __asm__("pthread_sigmask");

int sigmask_but_trap(int how, const sigset_t *set, sigset_t *old) {
    sigset_t less;
    if (set != NULL) {
        less = *set;
        if (how != SIG_UNBLOCK)
            sigdelset(&less, SIGSYS);
    }
    return sigprocmask(how, set == NULL ? NULL : &less, old) == 0 ? 0 : errno;
}

/* Stands before the C library's. */
__attribute__((visibility("default"))) pid_t own_number(void) __asm__("getpid");

pid_t own_number(void) {
    return process > 0 ? (pid_t)process : (pid_t)syscall(SYS_getpid);
}

#define FIELD(name) ((uint32_t)offsetof(struct seccomp_data, name))
#define LOAD(at) BPF_STMT(BPF_LD | BPF_W | BPF_ABS, (at))
#define WHEN(value, yes, no) BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, (value), (yes), (no))

/* Has the system trap the first `count` of the calls above. */
static int filter_calls(unsigned count) {
    uint32_t low = (uint32_t)(uintptr_t)faults_called;
    uint32_t high = (uint32_t)((uint64_t)(uintptr_t)faults_called >> 32);
    struct sock_filter steps[TRAPPED + 16];
    unsigned short at = 0;
    steps[at++] = (struct sock_filter)LOAD(FIELD(arch));
    steps[at++] = (struct sock_filter)WHEN(ARCHITECTURE, 0, (uint8_t)(count + 1));
    steps[at++] = (struct sock_filter)LOAD(FIELD(nr));
    for (unsigned i = 0; i < count; i++)
        steps[at++] = (struct sock_filter)WHEN((uint32_t)trapped[i], (uint8_t)(count - i), 0);
    steps[at++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW);
    steps[at++] = (struct sock_filter)LOAD(FIELD(instruction_pointer));
    steps[at++] = (struct sock_filter)WHEN(low, 0, 3);
    steps[at++] = (struct sock_filter)LOAD(FIELD(instruction_pointer) + 4);
    steps[at++] = (struct sock_filter)WHEN(high, 0, 1);
    steps[at++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW);
    steps[at++] = (struct sock_filter)BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_TRAP);
    struct sock_fprog filter = {at, steps};
    return prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &filter);
}

__attribute__((constructor)) static void begin(void) {
    struct sigaction action = {.sa_sigaction = on_call, .sa_flags = SA_SIGINFO | SA_NODEFER};
    most = setting("FAULTS_SHORT", 0);
    interrupt_every = setting("FAULTS_INTERRUPT", 0);
    read_fails = setting("FAULTS_READ", 0);
    write_fails = setting("FAULTS_WRITE", 0);
    errors_fail = setting("FAULTS_ERRORS", 0);
    tears_at = setting("FAULTS_TEAR", 0);
    room = setting("FAULTS_FULL", -1);
    full = room >= 0;
    kills_at = setting("FAULTS_KILL", 0);
    error = setting("FAULTS_ERRNO", EIO);
    process = setting("FAULTS_PROCESS", 0);
    if (sigaction(SIGSYS, &action, NULL) != 0 || prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0 ||
        filter_calls(kills_at > 0 ? TRAPPED : TRAPPED_ALWAYS) != 0)
        _exit(99);
}
