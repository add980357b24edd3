// The floor of a round trip over a pseudo-terminal: "serve" answers every line with ok (a wrong checksum with a resend
// request), "client DEVICE COUNT" sends lines one by one and prints each round trip in nanoseconds.
#define _GNU_SOURCE
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

static void answer(int fd, const char *line, int length) {
    int sum = 0, star = -1;
    for (int i = 0; i < length && star < 0; i++)
        if (line[i] == '*') star = i; else sum ^= line[i];
    char reply[64];
    int n = sprintf(reply, "ok\n");
    if (line[0] == 'N' && star > 0 && atoi(line + star + 1) != sum) n = sprintf(reply, "Error:checksum\nResend: %d\nok\n", atoi(line + 1));
    if (write(fd, reply, n) != n) exit(1);
}

static int serve(void) {
    int fd = posix_openpt(O_RDWR | O_NOCTTY);
    if (fd < 0 || grantpt(fd) || unlockpt(fd)) return 1;
    int kept = open(ptsname(fd), O_RDWR | O_NOCTTY);
    struct termios t;
    tcgetattr(kept, &t); cfmakeraw(&t); tcsetattr(kept, TCSANOW, &t);
    printf("%s\n", ptsname(fd)); fflush(stdout);
    char buffer[4096]; int have = 0;
    for (ssize_t n; (n = read(fd, buffer + have, sizeof buffer - have)) > 0;) {
        have += n;
        for (char *end; (end = memchr(buffer, '\n', have));) {
            *end = 0;
            answer(fd, buffer, end - buffer);
            have -= end + 1 - buffer;
            memmove(buffer, end + 1, have);
        }
    }
    return 0;
}

static int client(const char *device, int count) {
    int fd = open(device, O_RDWR | O_NOCTTY);
    if (fd < 0) return 1;
    const char line[] = "line 1234 X110.000 Y110.000 F3000\n";
    char reply[64];
    for (int i = 0; i < count; i++) {
        struct timespec a, b;
        int have = 0;
        clock_gettime(CLOCK_MONOTONIC, &a);
        if (write(fd, line, sizeof line - 1) < 0) return 1;
        do { ssize_t n = read(fd, reply + have, sizeof reply - have); if (n <= 0) return 1; have += n; } while (!memchr(reply, '\n', have));
        clock_gettime(CLOCK_MONOTONIC, &b);
        printf("%ld\n", (b.tv_sec - a.tv_sec) * 1000000000L + b.tv_nsec - a.tv_nsec);
    }
    return 0;
}

int main(int argc, char **argv) {
    return argc == 2 && !strcmp(argv[1], "serve") ? serve() : argc == 4 && !strcmp(argv[1], "client") ? client(argv[2], atoi(argv[3])) : 2;
}
