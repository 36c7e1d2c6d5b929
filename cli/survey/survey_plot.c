/* Drawings of the survey's page: points against wins, and bars. They tell their marks
 * apart by shape, so that they are read in grey as well. */
#include "survey/survey_plot.h"
#include "io/markup.h"
#include "io/message.h"
#include "io/output.h"
#include "io/text.h"

#include <math.h>
#include <stdlib.h>

/* ----------------------------------------------------------------- bars --- */

#define BAR_WIDTH 200.0 /* stretched to that of the column */

void survey_bar(const struct share *share, double most, const char *class_name) {
    double scale = most > 0 ? BAR_WIDTH / most : 0;
    output_format("<svg class=\"bar %s\" viewBox=\"0 0 %.0f 12\" preserveAspectRatio=\"none\" "
                  "aria-hidden=\"true\"><rect y=\"2\" width=\"%.2f\" height=\"8\"></rect>"
                  "<path d=\"M%.2f 6H%.2f\"></path></svg>",
                  class_name, BAR_WIDTH, share->of * scale, share->low * scale,
                  share->high * scale);
}

/* ---------------------------------------------------------------- scales --- */

/* Steps are 1, 2 and 5 times the powers of ten, numbered: step 0 is 1, step 4 is 20. */
static const double steps[] = {1, 2, 5};
enum { STEPS = sizeof steps / sizeof *steps };
#define NEARLY 1e-9 /* powers of ten are not exact */

/* Where numbers lie from the first step to the last. */
struct factor_scale {
    int first, last;
    double begin, end; /* in the drawing */
};

static double step_value(int step) {
    int place = (step % STEPS + STEPS) % STEPS;
    return steps[place] * pow(10, (double)(step - place) / STEPS);
}

/* The last step that is not larger, and the first that is not smaller. */
static int step_below(double number) {
    int step = STEPS * (int)floor(log10(number) + NEARLY);
    while (step_value(step + 1) <= number * (1 + NEARLY))
        step++;
    return step;
}

static int step_above(double number) {
    int step = step_below(number);
    return step_value(step) >= number * (1 - NEARLY) ? step : step + 1;
}

/* Room for all numbers, and at least one step. */
static struct factor_scale scale_for(double least, double most, double begin, double end) {
    struct factor_scale scale = {step_below(least), step_above(most), begin, end};
    if (scale.last == scale.first)
        scale.last++;
    return scale;
}

static double place_on(const struct factor_scale *scale, double number) {
    double first = step_value(scale->first), last = step_value(scale->last);
    double part = log(number / first) / log(last / first);
    return scale->begin + part * (scale->end - scale->begin);
}

/* ------------------------------------------------------------------ plot --- */

#define WIDTH 440
#define HEIGHT 362
#define LEFT 52
#define RIGHT 424
#define TOP 26
#define BOTTOM 314

struct mark {
    size_t pattern, place; /* place: in the order of the tables, from 0 */
    double percent;        /* of the wins */
    double x, y;
    struct pay pay;
};

struct plot {
    const struct counts *counts;
    struct mark *mark;
    size_t marks, far;
    double wins, together; /* of all patterns, and points of each if all bring the same */
    struct factor_scale across, down;
};

/* Points that are fair for a share of the wins. */
static double fair_at(const struct plot *plot, double percent) {
    return 100 * plot->together / (percent * plot->wins);
}

/* The patterns that were won and have points, in the order of the tables. */
static void find_marks(struct plot *plot, const size_t *order) {
    for (size_t i = 0; i < nh_list_size(plot->counts->list); i++) {
        struct mark mark = {.pattern = order[i], .place = i, .pay = pay_of(plot->counts, order[i])};
        mark.percent = 100 * (double)counts_wins(plot->counts, order[i]) / plot->wins;
        if (!mark.pay.has_fair || mark.pay.paid <= 0)
            continue;
        plot->mark[plot->marks++] = mark;
        plot->far += mark.pay.off != 0;
    }
}

/* The plot has a mark at least. */
static void place_marks(struct plot *plot) {
    double few = plot->mark[0].percent, many = few;
    double little = plot->mark[0].pay.paid, much = little;
    for (size_t i = 0; i < plot->marks; i++) {
        const struct mark *mark = &plot->mark[i];
        few = fmin(few, mark->percent);
        many = fmax(many, mark->percent);
        little = fmin(little, fmin(mark->pay.paid, mark->pay.fair));
        much = fmax(much, fmax(mark->pay.paid, mark->pay.fair));
    }
    plot->across = scale_for(few, many, LEFT, RIGHT);
    plot->down = scale_for(little, much, BOTTOM, TOP);
    for (size_t i = 0; i < plot->marks; i++) {
        plot->mark[i].x = place_on(&plot->across, plot->mark[i].percent);
        plot->mark[i].y = place_on(&plot->down, plot->mark[i].pay.paid);
    }
}

static void marks_across(const struct factor_scale *scale) {
    for (int step = scale->first; step <= scale->last; step++) {
        double x = place_on(scale, step_value(step));
        output_format("<path class=\"grid\" d=\"M%.1f %dV%d\"></path><text x=\"%.1f\" y=\"%d\" "
                      "text-anchor=\"middle\">%.3g</text>\n",
                      x, TOP, BOTTOM, x, BOTTOM + 18, step_value(step));
    }
    output_format("<text x=\"%d\" y=\"%d\" text-anchor=\"end\">%% of the wins</text>\n", RIGHT,
                  BOTTOM + 40);
}

static void marks_down(const struct factor_scale *scale) {
    for (int step = scale->first; step <= scale->last; step++) {
        double y = place_on(scale, step_value(step));
        output_format("<path class=\"grid\" d=\"M%d %.1fH%d\"></path><text x=\"%d\" y=\"%.1f\" "
                      "text-anchor=\"end\">%.6g</text>\n",
                      LEFT, y, RIGHT, LEFT - 7, y + 4.5, step_value(step));
    }
    output_format("<text x=\"%d\" y=\"%d\">points of a win</text>\n", LEFT, TOP - 10);
}

/* The line of fair points at both ends of the plot, times a factor. */
static void line_points(const struct plot *plot, double factor, bool back) {
    double ends[2] = {step_value(plot->across.first), step_value(plot->across.last)};
    for (int i = 0; i < 2; i++) {
        double percent = ends[back ? 1 - i : i];
        output_format("%.1f,%.1f ", place_on(&plot->across, percent),
                      place_on(&plot->down, factor * fair_at(plot, percent)));
    }
}

/* Fair points, and a third more or less. What leaves the plot is cut off. */
static void line_out(const struct plot *plot) {
    output_format("<svg x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\" viewBox=\"%d %d %d %d\" "
                  "overflow=\"hidden\"><polygon class=\"band\" points=\"",
                  LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP, LEFT, TOP, RIGHT - LEFT, BOTTOM - TOP);
    line_points(plot, 4.0 / 3, false);
    line_points(plot, 3.0 / 4, true);
    output_text("\"></polygon><polyline class=\"fair\" points=\"");
    line_points(plot, 1, false);
    output_text("\"></polyline></svg>\n");
}

/* The number of a mark that is far off, below those that stand in its place already. */
static void number_out(const struct plot *plot, const struct mark *mark) {
    bool left = mark->x > RIGHT - 24;
    int above = 0;
    for (const struct mark *before = plot->mark; before < mark; before++)
        above += before->pay.off != 0 && fabs(before->x - mark->x) < 20 &&
                 fabs(before->y - mark->y) < 10;
    output_format("<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%zu</text>",
                  left ? mark->x - 9 : mark->x + 9, mark->y + 4.5 + 13 * above,
                  left ? "end" : "start", mark->place + 1);
}

/* A disc; far off, a triangle that points to where the points should go. */
static void mark_out(const struct plot *plot, const struct mark *mark) {
    static const char *const shapes[] = {"M0 -6L5.5 4H-5.5Z",
                                         "M-3.5 0A3.5 3.5 0 1 0 3.5 0A3.5 3.5 0 1 0 -3.5 0Z",
                                         "M0 6L5.5 -4H-5.5Z"};
    output_text("<g><title>");
    markup_string(nh_list_pattern(plot->counts->list, mark->pattern)->name);
    output_format(": %.2f %% of the wins, pays %.4g, fair %.1f</title>", mark->percent,
                  mark->pay.paid, mark->pay.fair);
    output_format("<path class=\"%s\" transform=\"translate(%.1f %.1f)\" d=\"%s\"></path>",
                  mark->pay.off != 0 ? "far" : "near", mark->x, mark->y, shapes[mark->pay.off + 1]);
    if (mark->pay.off != 0)
        number_out(plot, mark);
    output_text("</g>\n");
}

static void plot_out(const struct plot *plot) {
    output_format("<svg class=\"plot\" role=\"img\" aria-labelledby=\"plot-title plot-text\" "
                  "viewBox=\"0 0 %d %d\">\n<title id=\"plot-title\">Points against wins</title>\n"
                  "<desc id=\"plot-text\">%zu pattern%s by share of the wins and points of "
                  "a win, both on scales of factors, with the line of fair points. %zu %s far from "
                  "it. The table below has the figures.</desc>\n",
                  WIDTH, HEIGHT, plot->marks, plural(plot->marks), plot->far,
                  plot->far == 1 ? "lies" : "lie");
    marks_across(&plot->across);
    marks_down(&plot->down);
    line_out(plot);
    for (size_t i = plot->marks; i-- > 0;)
        mark_out(plot, &plot->mark[i]);
    output_text("</svg>\n");
}

bool survey_plot(const struct counts *counts, const size_t *order) {
    struct plot plot = {.counts = counts,
                        .mark = malloc(nh_list_size(counts->list) * sizeof *plot.mark),
                        .wins = (double)(counts->games - counts->walls),
                        .together = fair_points_together(counts)};
    if (plot.mark == NULL)
        return short_of_memory();
    find_marks(&plot, order);
    if (plot.marks > 0) {
        place_marks(&plot);
        plot_out(&plot);
    }
    free(plot.mark);
    return plot.marks > 0;
}
