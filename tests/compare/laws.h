/* The comparison's networks in C: reading what `kinsol.py` writes, and the laws as in `laws.py`, written again. */

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define GRAVITY 9.80665
#define LN10 2.302585092994045684
#define K (2.0 / LN10)
#define PI 3.14159265358979323846

typedef struct {
    /* What the file says. */
    long chains, nodes, pipes, discharge;
    double density, viscosity, tolerance, scale_pa;
    double a0, a1, a2, cap, minimum, slope, limit[2], reference[2];
    double *from, *to, *square, *start, *pipe_chain, *length, *bore, *roughness, *minor;
    /* Made from that. */
    double *rough, *dynamic, *reynolds_per_flow, *rise, *root;
    /* The head limit at work, and the laws at the flows seen last. */
    int state;
    double *seen, *drop, *by_flow, pump_pa, pump_slope;
    /* What the solver keeps with it. */
    struct Reduced *reduced;
} Network;

static void *room(size_t count, size_t size) {
    void *memory = calloc(count + 1, size);
    if (!memory) exit(1);
    return memory;
}

static double *numbers(size_t count) { return room(count, sizeof(double)); }

/* 1/sqrt f of Colebrook-White by Newton's method. */
static double colebrook_root(double rough, double b, double x) {
    for (int i = 0; i < 30; i++) {
        double inside = rough + b * x;
        double step = (x + K * log(inside)) / (1.0 + K * b / inside);
        x = fmax(x - step, 0.1);
        if (fabs(step) < 1e-8) break;
    }
    return x;
}

/* Friction factor and Re f'/f. */
static double friction(Network *net, long i, double reynolds, double *relative) {
    if (reynolds <= 2000.0) {
        *relative = -1.0;
        return 64.0 / reynolds;
    }
    if (reynolds < 4000.0) {
        double f = 0.032 + net->rise[i] * (reynolds - 2000.0);
        *relative = net->rise[i] * reynolds / f;
        return f;
    }
    double b = 2.51 / reynolds, x = colebrook_root(net->rough[i], b, net->root[i]);
    double share = K * b / (net->rough[i] + b * x);
    net->root[i] = x;
    *relative = -2.0 * share / (1.0 + share);
    return 1.0 / (x * x);
}

static double at_speed(const Network *net, double flow, double n, double *by_flow) {
    double head = n * n * net->a0 + n * net->a1 * flow + net->a2 * flow * flow;
    *by_flow = head > 0.0 ? n * net->a1 + 2.0 * net->a2 * flow : 0.0;
    return fmax(head, 0.0);
}

static void pump(Network *net, double flow) {
    double limit = net->limit[net->state], reference = net->reference[net->state], other_slope;
    flow = fmax(flow, 0.0);
    double head = limit, slope = 0.0;
    if (flow < reference) {
        head = limit - net->slope * limit * (1.0 - flow / reference);
        slope = net->slope * limit / reference;
    }
    double other = at_speed(net, flow, net->cap, &other_slope);
    if (other < head) head = other, slope = other_slope;
    other = at_speed(net, flow, net->minimum, &other_slope);
    if (other > head) head = other, slope = other_slope;
    net->pump_pa = head * net->density * GRAVITY;
    net->pump_slope = slope * net->density * GRAVITY;
}

/* Drops and slopes at flows, unless these are the ones seen last. */
static void laws(Network *net, const double *q) {
    size_t size = (net->chains + 1) * sizeof(double);
    if (memcmp(net->seen, q, size) == 0) return;
    memcpy(net->seen, q, size);
    for (long c = 0; c < net->chains; c++) {
        double k = net->square[c] * fabs(q[c]);
        net->drop[c] = k;
        net->by_flow[c] = 2.0 * k;
    }
    for (long i = 0; i < net->pipes; i++) {
        long c = (long)net->pipe_chain[i];
        double flow = fabs(q[c]), relative;
        double f = friction(net, i, fmax(flow * net->reynolds_per_flow[i], 1e-30), &relative) * net->length[i] / net->bore[i];
        net->drop[c] += net->dynamic[i] * flow * (f + net->minor[i]);
        net->by_flow[c] += net->dynamic[i] * flow * (f * (2.0 + relative) + 2.0 * net->minor[i]);
    }
    for (long c = 0; c < net->chains; c++) net->drop[c] *= q[c];
    pump(net, q[net->chains]);
}

static double *take(FILE *file, size_t count) {
    double *all = numbers(count);
    if (fread(all, sizeof(double), count, file) != count) exit(2);
    return all;
}

static void read_network(Network *net, const char *path) {
    FILE *file = fopen(path, "rb");
    if (!file) exit(2);
    double *h = take(file, 18);
    net->chains = (long)h[0], net->nodes = (long)h[1], net->pipes = (long)h[2], net->discharge = (long)h[3];
    net->density = h[4], net->viscosity = h[5], net->tolerance = h[6], net->scale_pa = h[7];
    net->a0 = h[8], net->a1 = h[9], net->a2 = h[10], net->cap = h[11], net->minimum = h[12], net->slope = h[13];
    net->limit[0] = h[14], net->limit[1] = h[15], net->reference[0] = h[16], net->reference[1] = h[17];
    free(h);
    net->from = take(file, net->chains), net->to = take(file, net->chains);
    net->square = take(file, net->chains), net->start = take(file, net->chains);
    net->pipe_chain = take(file, net->pipes), net->length = take(file, net->pipes), net->bore = take(file, net->pipes);
    net->roughness = take(file, net->pipes), net->minor = take(file, net->pipes);
    fclose(file);
    net->rough = numbers(net->pipes), net->dynamic = numbers(net->pipes), net->rise = numbers(net->pipes);
    net->reynolds_per_flow = numbers(net->pipes), net->root = numbers(net->pipes);
    for (long i = 0; i < net->pipes; i++) {
        double area = PI * net->bore[i] * net->bore[i] / 4.0;
        net->dynamic[i] = net->density / (2.0 * area * area);
        net->reynolds_per_flow[i] = net->density * net->bore[i] / (net->viscosity * area);
        net->rough[i] = net->roughness[i] / net->bore[i] / 3.7;
        double x = net->root[i] = colebrook_root(net->rough[i], 2.51 / 4000.0, 6.0);
        net->rise[i] = (1.0 / (x * x) - 0.032) / 2000.0;
    }
    net->seen = numbers(net->chains + 1), net->drop = numbers(net->chains), net->by_flow = numbers(net->chains);
    net->seen[0] = NAN;
}
