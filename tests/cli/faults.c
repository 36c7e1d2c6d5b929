/* Reads and writes that go wrong, to be preloaded into the program under test.
 *
 * The C library's streams call the system from within, past any function that
 * could be put before theirs. So the system itself sends the calls back: a
 * filter traps every read and write but those of `faults_call`, and the handler
 * of the trap makes the call shorter, or leaves it out and says why.
 *
 *     FAULTS_SHORT=N       no call moves more than N bytes
 *     FAULTS_INTERRUPT=N   every Nth read is interrupted by a signal (EINTR)
 *     FAULTS_READ=N        the Nth read fails, and all after it
 *     FAULTS_WRITE=N       the Nth write to standard output does, and all after it
 *     FAULTS_ERRORS=1      every write to standard error does
 *     FAULTS_TEAR=N        the program is killed in the first longer write to a file
 *                          that it opened itself, when N bytes have got there
 *     FAULTS_ERRNO=N       with this error; EIO if not told
 *
 * Calls are counted from 1. For Linux on x86-64 and 64-bit ARM. */
#define _GNU_SOURCE
#include <errno.h>
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

long faults_call(long number, long a, long b, long c);
extern const char faults_called[]; /* where the system sees the call come from */

#if defined(__x86_64__)
#define ARCHITECTURE AUDIT_ARCH_X86_64
__asm__(".text\n.global faults_call\n.hidden faults_call\nfaults_call:\n"
        "mov %rdi, %rax\nmov %rsi, %rdi\nmov %rdx, %rsi\nmov %rcx, %rdx\nsyscall\n"
        ".global faults_called\n.hidden faults_called\nfaults_called:\nret\n");
#elif defined(__aarch64__)
#define ARCHITECTURE AUDIT_ARCH_AARCH64
__asm__(".text\n.global faults_call\n.hidden faults_call\nfaults_call:\n"
        "mov x8, x0\nmov x0, x1\nmov x1, x2\nmov x2, x3\nsvc #0\n"
        ".global faults_called\n.hidden faults_called\nfaults_called:\nret\n");
#else
#error "the registers of a call are not known here"
#endif

static long most, interrupt_every, read_fails, write_fails, errors_fail, tears_at, error;
static atomic_long reads, writes;

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
    return faults_call(SYS_read, descriptor, buffer, size);
}

static long faulty_write(long descriptor, long buffer, long size) {
    if (descriptor == STDOUT_FILENO) {
        long number = atomic_fetch_add(&writes, 1) + 1;
        if (write_fails > 0 && number >= write_fails)
            return -error;
    }
    if (descriptor == STDERR_FILENO && errors_fail > 0)
        return -error;
    if (descriptor > STDERR_FILENO && tears_at > 0 && size > tears_at) {
        faults_call(SYS_write, descriptor, buffer, tears_at);
        kill(getpid(), SIGKILL);
    }
    return faults_call(SYS_write, descriptor, buffer, size);
}

static void on_call(int signal_number, siginfo_t *info, void *context) {
    ucontext_t *at = context;
    (void)signal_number;
#if defined(__x86_64__)
    greg_t *registers = at->uc_mcontext.gregs;
    long a = registers[REG_RDI], b = registers[REG_RSI], size = registers[REG_RDX];
#else
    __u64 *registers = at->uc_mcontext.regs;
    long a = (long)registers[0], b = (long)registers[1], size = (long)registers[2];
#endif
    if (most > 0 && size > most)
        size = most;
    long result = info->si_syscall == SYS_read ? faulty_read(a, b, size) : faulty_write(a, b, size);
#if defined(__x86_64__)
    registers[REG_RAX] = result;
#else
    registers[0] = (__u64)result;
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

#define FIELD(name) ((uint32_t)offsetof(struct seccomp_data, name))
#define LOAD(at) BPF_STMT(BPF_LD | BPF_W | BPF_ABS, (at))
#define WHEN(value, yes, no) BPF_JUMP(BPF_JMP | BPF_JEQ | BPF_K, (value), (yes), (no))

__attribute__((constructor)) static void begin(void) {
    uint64_t own = (uint64_t)(uintptr_t)faults_called;
    struct sock_filter steps[] = {
        LOAD(FIELD(arch)),
        WHEN(ARCHITECTURE, 0, 7),
        LOAD(FIELD(nr)),
        WHEN(SYS_read, 1, 0),
        WHEN(SYS_write, 0, 4),
        LOAD(FIELD(instruction_pointer)),
        WHEN((uint32_t)own, 0, 3),
        LOAD(FIELD(instruction_pointer) + 4),
        WHEN((uint32_t)(own >> 32), 0, 1),
        BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_ALLOW),
        BPF_STMT(BPF_RET | BPF_K, SECCOMP_RET_TRAP),
    };
    struct sock_fprog filter = {sizeof steps / sizeof *steps, steps};
    struct sigaction action = {.sa_sigaction = on_call, .sa_flags = SA_SIGINFO | SA_NODEFER};
    most = setting("FAULTS_SHORT", 0);
    interrupt_every = setting("FAULTS_INTERRUPT", 0);
    read_fails = setting("FAULTS_READ", 0);
    write_fails = setting("FAULTS_WRITE", 0);
    errors_fail = setting("FAULTS_ERRORS", 0);
    tears_at = setting("FAULTS_TEAR", 0);
    error = setting("FAULTS_ERRNO", EIO);
    if (sigaction(SIGSYS, &action, NULL) != 0 || prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) != 0 ||
        prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &filter) != 0)
        _exit(99);
}
