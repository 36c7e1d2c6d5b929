/* Drawings of the survey's page. */
#ifndef CLI_SURVEY_SURVEY_PLOT_H
#define CLI_SURVEY_SURVEY_PLOT_H

#include "survey/figures.h"

/* Points against wins, on scales of which each step is a factor: there patterns that bring
 * the same lie on a straight line. Those far from it bear their place in `order`, from 1.
 * False, with nothing written, where no pattern was won that has points. */
bool survey_plot(const struct counts *counts, const size_t *order);

/* A share from 0 to `most`, as wide as its column, with its interval. */
void survey_bar(const struct share *share, double most, const char *class_name);

#endif
