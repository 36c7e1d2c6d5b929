/* Counts every pattern of a list: its figures, its odds, its place to the line of points,
 * a sample of each variant. */
#include "audit/audit_counts.h"
#include "audit/accepted.h"
#include "io/message.h"

#include <stdlib.h>

/* --------------------------------------------------------------- counting --- */

/* NH_OK too where counting takes too much work, which a warning says. */
static nh_status count_one(const struct audit *audit, size_t pattern, struct figure *figure) {
    nh_status status =
        nh_audit_figures(audit->list, pattern, &audit->question, &figure->count, NULL);
    figure->known = status == NH_OK;
    if (audit->jokers && (status == NH_OK || status == NH_ERROR_LIMIT)) {
        status = nh_audit_dealt(audit->list, pattern, &audit->question, &figure->dealt, NULL);
        figure->dealt_known = status == NH_OK;
    }
    return status == NH_ERROR_LIMIT ? NH_OK : status;
}

static nh_status draw_line(struct audit *audit) {
    struct points_place **places = calloc(audit->size + 1, sizeof(struct points_place *));
    if (places == NULL)
        return NH_ERROR_MEMORY;
    for (size_t i = 0; i < audit->size; i++) {
        const nh_pattern *pattern = nh_list_pattern(audit->list, i);
        double chance = chance_dealt(audit, i);
        places[i] = &audit->figures[i].points;
        *places[i] = (struct points_place){.counts = pattern->has_points && chance > 0,
                                           .chance = chance,
                                           .points = pattern->points};
    }
    bool drawn = points_line_draw(places, audit->size, &audit->line);
    free(places);
    return drawn ? NH_OK : NH_ERROR_MEMORY;
}

/* ---------------------------------------------------------------- samples --- */

/* The layout that is looked for: the first of a variant. */
struct wanted_layout {
    uint32_t variant;
    nh_layout *layout;
};

static bool keep_of_variant(const nh_layout *layout, void *context) {
    const struct wanted_layout *wanted = context;
    if (layout->variant != wanted->variant)
        return true;
    *wanted->layout = *layout;
    return false;
}

static nh_status find_samples(const nh_list *list, size_t pattern, struct figure *figure) {
    size_t variants = nh_audit_variants(list, pattern);
    figure->samples = calloc(variants + 1, sizeof *figure->samples);
    if (figure->samples == NULL)
        return NH_ERROR_MEMORY;
    for (size_t v = 0; v < variants; v++) {
        struct sample *sample = &figure->samples[v];
        struct wanted_layout wanted = {(uint32_t)v, &sample->layout};
        nh_status status = nh_audit_sample(list, pattern, v, &sample->target, NULL);
        if (status == NH_ERROR_MEMORY)
            return status;
        if (status == NH_OK && nh_tiles_total(&sample->target) > 0)
            nh_layouts_each(list, pattern, &sample->target, NULL, keep_of_variant, &wanted, NULL);
    }
    return NH_OK;
}

/* -------------------------------------------------------------------- all --- */

bool audit_count(struct audit *audit, bool samples) {
    audit->figures = calloc(audit->size, sizeof *audit->figures);
    nh_status status = audit->figures == NULL || !accepted_start(audit) ? NH_ERROR_MEMORY : NH_OK;
    for (size_t i = 0; status == NH_OK && i < audit->size; i++) {
        status = count_one(audit, i, &audit->figures[i]);
        if (status == NH_OK && samples)
            status = find_samples(audit->list, i, &audit->figures[i]);
    }
    if (status == NH_OK && !audit->rest)
        status = draw_line(audit);
    if (status == NH_OK && !warnings_find(audit))
        status = NH_ERROR_MEMORY;
    if (status != NH_OK)
        complain("%s", nh_status_text(status));
    return status == NH_OK;
}

void audit_free(struct audit *audit) {
    for (size_t i = 0; audit->figures != NULL && i < audit->size; i++)
        free(audit->figures[i].samples);
    free(audit->figures);
    free(audit->relation);
    free(audit->shared);
    free(audit->arose);
    warnings_free(&audit->warnings);
}
