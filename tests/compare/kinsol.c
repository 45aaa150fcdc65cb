/* The comparison's networks by KINSOL of SUNDIALS with KLU: `kinsol NETWORK ANSWER`; `kinsol.py` writes the one and reads the
 * other, both being rows of doubles, and one line of text for each way of solving.
 *
 * Unknowns: flow of each chain, flow of the pump, pressure of each node. Equations: law of each chain, law of the pump, balance of
 * each node. The Jacobian is exact. Its rows of laws are diagonal in the flows: a linear solver of our own eliminates them and leaves
 * to KLU the matrix that `newton.py` shows, which has far less fill than the whole. Laws as in `laws.py`, written again here. */

#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>
#include <time.h>

#include "laws.h"

/* The reduced matrix. */
typedef struct Reduced {
    /* Its pattern and numbers, and where the numbers of each chain (aa, bb, ab, ba; -1 for none) and of the pump stand. */
    sunindextype *pointers, *rows, *slot, entries, pump_slot, coupling[2];
    double *values, *conductance;
    /* KLU, its right-hand side and its answer. */
    SUNLinearSolver klu;
    N_Vector right, found;
} Reduced;

/* Processor time, s. */
static double now(void) {
    struct timespec at;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &at);
    return at.tv_sec + 1e-9 * at.tv_nsec;
}

static int residual(N_Vector u, N_Vector result, void *data) {
    Network *net = data;
    const double *q = N_VGetArrayPointer(u), *p = q + net->chains + 1;
    double *law = N_VGetArrayPointer(result), *balance = law + net->chains + 1;
    laws(net, q);
    memset(balance, 0, net->nodes * sizeof(double));
    for (long c = 0; c < net->chains; c++) {
        long a = (long)net->from[c], b = (long)net->to[c];
        law[c] = net->drop[c] - (a < 0 ? 0.0 : p[a]) + (b < 0 ? 0.0 : p[b]);
        if (a >= 0) balance[a] += q[c];
        if (b >= 0) balance[b] -= q[c];
    }
    law[net->chains] = p[net->discharge] - net->pump_pa;
    balance[net->discharge] -= q[net->chains];
    return 0;
}

/* Fills the reduced matrix: [A g A', -e; -e', H'] with g = 1/(d drop/d flow). */
static int jacobian(N_Vector u, N_Vector f, SUNMatrix matrix, void *data, N_Vector one, N_Vector other) {
    Network *net = data;
    Reduced *reduced = net->reduced;
    (void)f, (void)one, (void)other;
    laws(net, N_VGetArrayPointer(u));
    memset(reduced->values, 0, reduced->entries * sizeof(double));
    for (long c = 0; c < net->chains; c++) {
        double g = reduced->conductance[c] = 1.0 / net->by_flow[c];
        const sunindextype *slot = reduced->slot + 4 * c;
        if (slot[0] >= 0) reduced->values[slot[0]] += g;
        if (slot[1] >= 0) reduced->values[slot[1]] += g;
        if (slot[2] >= 0) reduced->values[slot[2]] -= g, reduced->values[slot[3]] -= g;
    }
    reduced->values[reduced->coupling[0]] = reduced->values[reduced->coupling[1]] = -1.0;
    reduced->values[reduced->pump_slot] = net->pump_slope;
    /* SUNDIALS empties the pattern together with the numbers. */
    memcpy(SUNSparseMatrix_IndexPointers(matrix), reduced->pointers, (net->nodes + 2) * sizeof(sunindextype));
    memcpy(SUNSparseMatrix_IndexValues(matrix), reduced->rows, reduced->entries * sizeof(sunindextype));
    memcpy(SUNSparseMatrix_Data(matrix), reduced->values, reduced->entries * sizeof(double));
    return 0;
}

static SUNLinearSolver_Type is_direct(SUNLinearSolver solver) {
    (void)solver;
    return SUNLINEARSOLVER_DIRECT;
}

static int factorise(SUNLinearSolver solver, SUNMatrix matrix) {
    return SUNLinSolSetup(((Network *)solver->content)->reduced->klu, matrix);
}

/* Solves J x = b by way of the reduced matrix. */
static int substitute(SUNLinearSolver solver, SUNMatrix matrix, N_Vector x, N_Vector b, sunrealtype tolerance) {
    Network *net = solver->content;
    Reduced *reduced = net->reduced;
    const double *law = N_VGetArrayPointer(b), *balance = law + net->chains + 1;
    double *q = N_VGetArrayPointer(x), *p = q + net->chains + 1, *right = N_VGetArrayPointer(reduced->right);
    memcpy(right, balance, net->nodes * sizeof(double));
    right[net->nodes] = -law[net->chains];
    for (long c = 0; c < net->chains; c++) {
        long from = (long)net->from[c], to = (long)net->to[c];
        double carried = reduced->conductance[c] * law[c];
        if (from >= 0) right[from] -= carried;
        if (to >= 0) right[to] += carried;
    }
    int flag = SUNLinSolSolve(reduced->klu, matrix, reduced->found, reduced->right, tolerance);
    const double *found = N_VGetArrayPointer(reduced->found);
    for (long c = 0; c < net->chains; c++) {
        long from = (long)net->from[c], to = (long)net->to[c];
        q[c] = reduced->conductance[c] * (law[c] + (from < 0 ? 0.0 : found[from]) - (to < 0 ? 0.0 : found[to]));
    }
    q[net->chains] = found[net->nodes];
    memcpy(p, found, net->nodes * sizeof(double));
    return flag;
}

typedef struct {
    long column, row;
    sunindextype *slot;
} Entry;

static int in_order(const void *one, const void *other) {
    const Entry *a = one, *b = other;
    long by_column = a->column - b->column, by_row = a->row - b->row;
    return by_column ? (by_column > 0) - (by_column < 0) : (by_row > 0) - (by_row < 0);
}

/* Where each number of the reduced matrix goes, node by node with the pump last. */
static void pattern(Network *net) {
    Reduced *reduced = net->reduced;
    long size = net->nodes + 1, count = 0;
    Entry *all = room(4 * net->chains + 3, sizeof(Entry));
    reduced->slot = room(4 * net->chains, sizeof(sunindextype));
    for (long c = 0; c < net->chains; c++) {
        long a = (long)net->from[c], b = (long)net->to[c], ends[4][2] = {{a, a}, {b, b}, {a, b}, {b, a}};
        for (int i = 0; i < 4; i++) {
            reduced->slot[4 * c + i] = -1;
            if (ends[i][0] >= 0 && ends[i][1] >= 0) all[count++] = (Entry){ends[i][0], ends[i][1], &reduced->slot[4 * c + i]};
        }
    }
    all[count++] = (Entry){net->discharge, net->nodes, &reduced->coupling[0]};
    all[count++] = (Entry){net->nodes, net->discharge, &reduced->coupling[1]};
    all[count++] = (Entry){net->nodes, net->nodes, &reduced->pump_slot};
    qsort(all, count, sizeof(Entry), in_order);
    reduced->pointers = room(size + 1, sizeof(sunindextype)), reduced->rows = room(count, sizeof(sunindextype));
    for (long i = 0; i < count; i++) {
        if (i == 0 || in_order(&all[i - 1], &all[i])) {
            reduced->rows[reduced->entries++] = all[i].row;
            reduced->pointers[all[i].column + 1] = reduced->entries;
        }
        *all[i].slot = reduced->entries - 1;
    }
    free(all);
    reduced->values = numbers(reduced->entries), reduced->conductance = numbers(net->chains);
}

typedef struct {
    Network *net;
    void *kinsol;
    N_Vector u, u_scale, f_scale;
    double *start[2];
    long steps;
} Job;

/* One solve at a head limit from what `u` holds; false if it does not end below the tolerance. */
static int solve(Job *job, int state) {
    Network *net = job->net;
    long steps = 0;
    net->state = state;
    net->seen[0] = NAN;
    int flag = KINSol(job->kinsol, job->u, KIN_NONE, job->u_scale, job->f_scale);
    KINGetNumNonlinSolvIters(job->kinsol, &steps);
    if (steps > job->steps) job->steps = steps;
    return flag == KIN_SUCCESS || flag == KIN_INITIAL_GUESS_OK;
}

static void rest(Job *job, int state) {
    memcpy(N_VGetArrayPointer(job->u), job->start[state], N_VGetLength(job->u) * sizeof(double));
}

static int turn(Job *job, int is_cold, long index) {
    if (is_cold) rest(job, index % 2);
    return solve(job, index % 2);
}

static int compare(const void *a, const void *b) {
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* Median processor seconds of a solve, in batches of both states long enough for the clock; negative if one fails. */
static double measure(Job *job, int is_cold) {
    double times[100], begin = now();
    job->steps = 0;
    if (!turn(job, is_cold, 0) || !turn(job, is_cold, 1)) return -1.0;
    double once = (now() - begin) / 2.0;
    long batch = 2 * (long)fmin(fmax(1e-3 / once / 2.0, 1.0), 1000.0), runs = (long)fmin(fmax(0.3 / (once * batch), 3.0), 100.0);
    for (long run = 0; run < runs; run++) {
        begin = now();
        for (long i = 0; i < batch; i++)
            if (!turn(job, is_cold, i)) return -1.0;
        times[run] = (now() - begin) / batch;
    }
    qsort(times, runs, sizeof(double), compare);
    return times[runs / 2];
}

/* Measures one way of solving: a new Jacobian every so many steps or, if `keeps`, the one of an earlier answer throughout. */
static void way(Job *job, const char *name, long between_setups, int keeps) {
    KINSetMaxSetupCalls(job->kinsol, keeps ? 1 : between_setups);
    KINSetNoInitSetup(job->kinsol, 0);
    double cold = keeps ? -1.0 : measure(job, 1);
    long cold_steps = job->steps;
    rest(job, 0);
    double warm = -1.0;
    if (solve(job, 0)) {
        KINSetMaxSetupCalls(job->kinsol, between_setups);
        KINSetNoInitSetup(job->kinsol, keeps);
        warm = measure(job, 0);
    }
    printf("%s %.9g %ld %.9g %ld\n", name, cold, cold_steps, warm, job->steps);
}

int main(int count, char **arguments) {
    Reduced reduced = {0};
    Network net = {.reduced = &reduced};
    SUNContext context;
    if (count != 3) return 2;
    read_network(&net, arguments[1]);
    pattern(&net);
#if SUNDIALS_VERSION_MAJOR < 7
    if (SUNContext_Create(NULL, &context)) return 3;
#else
    if (SUNContext_Create(SUN_COMM_NULL, &context)) return 3;
#endif
    long size = net.chains + 1 + net.nodes;
    Job job = {.net = &net, .kinsol = KINCreate(context), .u = N_VNew_Serial(size, context)};
    job.u_scale = N_VClone(job.u), job.f_scale = N_VClone(job.u);
    double total = net.reference[0];
    double *u = N_VGetArrayPointer(job.u_scale), *f = N_VGetArrayPointer(job.f_scale);
    for (int state = 0; state < 2; state++) {
        job.start[state] = numbers(size);
        memcpy(job.start[state], net.start, net.chains * sizeof(double));
        job.start[state][net.chains] = 0.5 * net.reference[state];
    }
    for (long i = 0; i < size; i++) {
        int is_law = i <= net.chains;
        u[i] = i < net.chains ? 1.0 / net.start[i] : is_law ? 1.0 / total : 1.0 / net.scale_pa;
        f[i] = is_law ? 1.0 / net.scale_pa : 1.0 / total;
    }
    SUNMatrix matrix = SUNSparseMatrix(net.nodes + 1, net.nodes + 1, reduced.entries, CSC_MAT, context);
    reduced.right = N_VNew_Serial(net.nodes + 1, context), reduced.found = N_VClone(reduced.right);
    reduced.klu = SUNLinSol_KLU(reduced.right, matrix, context);
    /* Minimum degree, made for symmetric patterns. */
    if (SUNLinSol_KLUSetOrdering(reduced.klu, 0) || SUNLinSolInitialize(reduced.klu)) return 3;
    /* Ours has no `initialize`, so that KLU keeps its symbolic factorisation from one solve to the next. */
    SUNLinearSolver solver = SUNLinSolNewEmpty(context);
    solver->content = &net;
    solver->ops->gettype = is_direct, solver->ops->setup = factorise, solver->ops->solve = substitute;
    if (KINInit(job.kinsol, residual, job.u) || KINSetLinearSolver(job.kinsol, solver, matrix)) return 3;
    KINSetJacFn(job.kinsol, jacobian), KINSetUserData(job.kinsol, &net);
    KINSetFuncNormTol(job.kinsol, net.tolerance), KINSetScaledStepTol(job.kinsol, 1e-30);
    KINSetMaxNewtonStep(job.kinsol, 1e30), KINSetNumMaxIters(job.kinsol, 200);
#if SUNDIALS_VERSION_MAJOR < 7
    KINSetErrFile(job.kinsol, NULL);
#endif
    KINSetMaxSetupCalls(job.kinsol, 1);
    /* Once with everything; from then on the symbolic factorisation is kept. */
    rest(&job, 0);
    if (!solve(&job, 0)) return 4;
    FILE *file = fopen(arguments[2], "wb");
    for (int state = 0; state < 2; state++) {
        rest(&job, state);
        if (!file || !solve(&job, state)) return 4;
        /* Three steps more than the tolerance asks for: KINSOL then tells of too many, which is no matter. */
        KINSetNumMaxIters(job.kinsol, 3), KINSetFuncNormTol(job.kinsol, 1e-300);
        solve(&job, state);
        KINSetNumMaxIters(job.kinsol, 200), KINSetFuncNormTol(job.kinsol, net.tolerance);
        fwrite(N_VGetArrayPointer(job.u), sizeof(double), size, file);
    }
    fclose(file);
    way(&job, "newton", 1, 0);
    way(&job, "modified", 10, 0);
    way(&job, "kept", 100, 1);
    return 0;
}
