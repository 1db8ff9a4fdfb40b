/* A peer of the benchmark `sparse`: CHOLMOD on equations from a file, one measurement for each line
 * on standard input (an ordering: amd, metis, best).
 *
 * cc -O2 cholmod.c -o cholmod -lcholmod -lopenblas -lm
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <suitesparse/cholmod.h>
#include <time.h>

static double cpu(void) {
    struct timespec now;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static void *wanted(const void *p) {
    if (!p) {
        fprintf(stderr, "cholmod: out of memory or a broken file\n");
        exit(1);
    }
    return (void *)p;
}

static void fetch(void *to, size_t size, size_t count, FILE *file) {
    wanted(fread(to, size, count, file) == count ? to : NULL);
}

static long memory(const char *name) {
    char line[256];
    long found = 0;
    FILE *file = wanted(fopen("/proc/self/status", "r"));
    while (fgets(line, sizeof line, file))
        if (!strncmp(line, name, strlen(name)))
            found = strtol(strchr(line, ':') + 1, NULL, 10);
    fclose(file);
    return found;
}

/* Largest |b - A x| by the largest entry of A times that of x, worst column. */
static double residual(cholmod_sparse *a, cholmod_dense *x, cholmod_dense *b, cholmod_common *c) {
    double one[2] = {1, 0}, minus[2] = {-1, 0}, worst = 0, top = 0;
    cholmod_dense *r = cholmod_l_copy_dense(b, c);
    cholmod_l_sdmult(a, 0, minus, one, x, r, c);
    for (size_t p = 0; p < a->nzmax; p++) {
        double v = ((double *)a->x)[p];
        top = v > top ? v : -v > top ? -v : top;
    }
    for (size_t j = 0; j < b->ncol; j++) {
        double rest = 0, size = 0;
        for (size_t i = j * b->nrow; i < (j + 1) * b->nrow; i++) {
            double v = ((double *)r->x)[i], w = ((double *)x->x)[i];
            rest = v > rest ? v : -v > rest ? -v : rest;
            size = w > size ? w : -w > size ? -w : size;
        }
        worst = rest / (top * size) > worst ? rest / (top * size) : worst;
    }
    cholmod_l_free_dense(&r, c);
    return worst;
}

int main(int count, char **arguments) {
    int64_t head[4];
    FILE *file = wanted(count == 2 ? fopen(arguments[1], "rb") : NULL);
    fetch(head, 8, 4, file);
    size_t n = (size_t)head[1], entries = (size_t)head[2], columns = (size_t)head[3];
    cholmod_common c;
    cholmod_l_start(&c);
    cholmod_sparse *a =
        wanted(cholmod_l_allocate_sparse(n, n, entries, 1, 1, -1, CHOLMOD_REAL, &c));
    cholmod_dense *b = wanted(cholmod_l_allocate_dense(n, columns, n, CHOLMOD_REAL, &c));
    fetch(a->p, 8, n + 1, file);
    fetch(a->i, 8, entries, file);
    fetch(a->x, 8, entries, file);
    fetch(b->x, 8, n * columns, file);
    fclose(file);
    long before = memory("VmRSS");

    char line[64];
    while (fgets(line, sizeof line, stdin)) {
        int best = !strncmp(line, "best", 4);
        c.nmethods = best ? 0 : 1;
        c.method[0].ordering = strncmp(line, "metis", 5) ? CHOLMOD_AMD : CHOLMOD_METIS;
        double start = cpu();
        cholmod_factor *l = cholmod_l_analyze(a, &c);
        double ordered = cpu();
        cholmod_l_factorize(a, l, &c);
        double factored = cpu();
        cholmod_dense *x = cholmod_l_solve(CHOLMOD_A, l, b, &c);
        double solved = cpu();
        printf("order %g factor %g solve %g cpu %g residual %g entries %g flops %g peak %ld "
               "before %ld\n",
               ordered - start, factored - ordered, solved - factored, solved - start,
               residual(a, x, b, &c), l->is_super ? (double)l->xsize : c.lnz, c.fl,
               memory("VmHWM"), before);
        fflush(stdout);
        cholmod_l_free_dense(&x, &c);
        cholmod_l_free_factor(&l, &c);
    }
    return 0;
}
