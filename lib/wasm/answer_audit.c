/* The question "audit": the figures of each pattern. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

static void add_figures(struct answer *answer, const nh_figures *figures) {
    add_natural(answer, "targets", &figures->targets);
    add_natural(answer, "ways", &figures->ways);
    add_double(answer, "dealt", figures->dealt);
}

static void add_unknown(struct answer *answer) {
    add_null(answer, "targets");
    add_null(answer, "ways");
    add_null(answer, "dealt");
}

/* A pattern that takes too much work has nothing but nulls. */
bool answer_audit(struct asked *asked, struct answer *answer) {
    nh_audit_question question = NH_AUDIT_QUESTION;
    if (!asked_read(asked, false))
        return false;
    question.prevailing = asked->situation.prevailing;
    question.seat = asked->situation.seat;
    add_text(answer, "list", nh_list_title(asked->list));
    open_array(answer, "patterns");
    for (size_t i = 0; i < nh_list_size(asked->list); i++) {
        nh_figures figures;
        if (asked->chosen != NULL && asked->chosen[i] == 0)
            continue;
        nh_status status = nh_audit_figures(asked->list, i, &question, &figures, &asked->error);
        if (status != NH_OK && status != NH_ERROR_LIMIT)
            return false;
        open_object(answer, NULL);
        add_text(answer, "pattern", nh_list_pattern(asked->list, i)->name);
        if (status == NH_OK)
            add_figures(answer, &figures);
        else
            add_unknown(answer);
        close_object(answer);
    }
    close_array(answer);
    return true;
}
