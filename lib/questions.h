/* Questions about one hand, read and checked once; batches ask them many times. */
#ifndef NH_QUESTIONS_H
#define NH_QUESTIONS_H

#include "nearhand.h"

/* A question with the defaults of this version, and the situation it points to: do
 * not copy it. */
struct rank_asked {
    nh_rank_question question;
    nh_situation situation;
};

struct pass_asked {
    nh_pass_question question;
    nh_situation situation;
};

struct discard_asked {
    nh_discard_question question;
    nh_situation situation;
};

/* NH_OK, or what is wrong for every hand. */
nh_status read_rank_question(const nh_rank_question *given, struct rank_asked *asked,
                             nh_error *error);
nh_status read_pass_question(const nh_list *list, const nh_pass_question *given,
                             struct pass_asked *asked, nh_error *error);
nh_status read_discard_question(const nh_discard_question *given, struct discard_asked *asked,
                                nh_error *error);

/* The checks of what questions have in common: a situation of any version made one of
 * this, a size that an initialiser must have set, tiles for a chance. */
nh_status read_situation(const nh_situation *given, nh_situation *situation, nh_error *error);
nh_status check_size(const char *which, size_t size, nh_error *error);
nh_status check_draws(int draws, nh_error *error);

/* Answer questions that were read so. */
nh_status rank_hand(nh_workspace *workspace, const nh_tiles *hand, const nh_rank_question *question,
                    nh_ranked *rows, size_t capacity, nh_ranking *ranking, nh_error *error);
nh_status pass_hand(nh_workspace *workspace, const nh_tiles *hand, const nh_pass_question *question,
                    nh_choice *choices, size_t capacity, nh_passing *passing, nh_error *error);
nh_status discard_from(nh_workspace *workspace, const nh_tiles *hand,
                       const nh_discard_question *question, nh_discard_choice *choices,
                       size_t capacity, nh_discarding *discarding, nh_error *error);

#endif
