// Preloaded by each_step.sh. Counts the calls that change files; at the STEP-th of them the signal STEP_SIGNAL comes first,
// or the call fails with the error STEP_ERRNO, a write after half of its bytes. STEPS_TO names the file that is told how many
// there were.
#define _GNU_SOURCE
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

static int steps;

static int wanted(const char* name) {
  const char* value = getenv(name);
  return value ? atoi(value) : 0;
}

/* Whether the call is to fail; what takes something away always works, as nothing could clear up otherwise. */
static int fails(int may_fail) {
  if (__atomic_add_fetch(&steps, 1, __ATOMIC_SEQ_CST) != wanted("STEP")) return 0;
  if (wanted("STEP_SIGNAL")) kill(getpid(), wanted("STEP_SIGNAL"));
  errno = wanted("STEP_ERRNO");
  return may_fail && errno;
}

__attribute__((destructor)) static void tell(void) {
  const char* path = getenv("STEPS_TO");
  FILE* file = path ? fopen(path, "w") : NULL;
  if (!file) return;
  fprintf(file, "%d\n", steps);
  fclose(file);
}

#define REAL(name) ((__typeof__(&name))dlsym(RTLD_NEXT, #name))
#define STEPPED(name, may_fail, parameters, arguments) \
  int name parameters { return fails(may_fail) ? -1 : REAL(name) arguments; }

STEPPED(fsync, 1, (int descriptor), (descriptor))
STEPPED(fchmod, 1, (int descriptor, mode_t mode), (descriptor, mode))
STEPPED(mkdir, 1, (const char* path, mode_t mode), (path, mode))
STEPPED(mkostemp, 1, (char* path, int flags), (path, flags))
STEPPED(rename, 1, (const char* from, const char* to), (from, to))
STEPPED(renameat2, 1, (int a, const char* from, int b, const char* to, unsigned flags), (a, from, b, to, flags))
STEPPED(unlink, 0, (const char* path), (path))
STEPPED(unlinkat, 0, (int folder, const char* path, int flags), (folder, path, flags))

int open(const char* path, int flags, ...) {
  va_list more;
  va_start(more, flags);
  const mode_t mode = flags & O_CREAT ? va_arg(more, mode_t) : 0;
  va_end(more);
  return flags & O_CREAT && fails(1) ? -1 : REAL(open)(path, flags, mode);
}

ssize_t write(int descriptor, const void* bytes, size_t count) {
  if (!fails(1)) return REAL(write)(descriptor, bytes, count);
  const int error = errno;
  if (count > 1) (void)!REAL(write)(descriptor, bytes, count / 2);
  errno = error;
  return -1;
}
