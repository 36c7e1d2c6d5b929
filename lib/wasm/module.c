/* The module's exports: lists are opened from bytes of JSON, and questions about them
 * are asked and answered as JSON text.
 *
 * Text goes in through memory that nearhand_reserve gives, and comes out as a text that
 * ends in a zero byte and stays until the next call. Memory that runs out ends the
 * module by a trap: what was open in it is lost. */
#include "wasm/answer_json.h"
#include "wasm/asked.h"

#include <stdlib.h>
#include <string.h>

#ifdef __wasm__
#define EXPORT(name) __attribute__((export_name(name)))
#else
#define EXPORT(name) /* checkers look at this file as one of their own machine's */
#endif
#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

static struct answer answer; /* of the last call */

static void *allocate(size_t size) {
    void *pointer = malloc(size == 0 ? 1 : size);
    if (pointer == NULL)
        __builtin_trap();
    return pointer;
}

static void say_error(const nh_error *error) {
    restart_answer(&answer);
    open_object(&answer, NULL);
    open_object(&answer, "error");
    add_text(&answer, "text", error->text);
    add_whole(&answer, "column", error->column);
    close_object(&answer);
    close_object(&answer);
}

/* ---------------------------------------------------------------- text --- */

/* `size` bytes for text that goes in; nearhand_release frees them. */
EXPORT("nearhand_reserve") void *nearhand_reserve(size_t size) {
    cJSON_Hooks hooks = {allocate, free};
    cJSON_InitHooks(&hooks);
    return allocate(size);
}

EXPORT("nearhand_release") void nearhand_release(void *pointer) {
    free(pointer);
}

/* What the last call said. */
EXPORT("nearhand_answer") const char *nearhand_answer(void) {
    return answer.text;
}

EXPORT("nearhand_version") const char *nearhand_version(void) {
    return nh_version();
}

/* --------------------------------------------------------------- lists --- */

static void close_desk(struct desk *desk) {
    if (desk == NULL)
        return;
    nh_workspace_free(desk->rest_workspace);
    nh_list_free(desk->rest);
    nh_workspace_free(desk->workspace);
    nh_list_free(desk->list);
    free(desk->rows);
    free(desk->choices);
    free(desk->away);
    free(desk->chosen);
    free(desk);
}

static void say_mistakes(const nh_mistakes *mistakes, nh_status status) {
    restart_answer(&answer);
    open_object(&answer, NULL);
    open_array(&answer, "mistakes");
    for (size_t i = 0; i < nh_mistakes_size(mistakes); i++) {
        const nh_mistake *mistake = nh_mistakes_at(mistakes, i);
        open_object(&answer, NULL);
        add_whole(&answer, "line", mistake->line);
        add_whole(&answer, "column", mistake->column);
        add_text(&answer, "pattern", mistake->pattern);
        add_text(&answer, "text", mistake->text);
        add_text(&answer, "warning", mistake->warning);
        close_object(&answer);
    }
    close_array(&answer);
    add_text(&answer, "status", nh_status_text(status));
    close_object(&answer);
    finish_answer(&answer);
}

/* A list out of its JSON, to be closed with nearhand_close. NULL where it has mistakes,
 * which nearhand_answer says then. */
EXPORT("nearhand_open") struct desk *nearhand_open(const char *json, size_t length) {
    struct desk *desk = allocate(sizeof *desk);
    nh_mistakes *mistakes = NULL;
    *desk = (struct desk){0};
    nh_status status = nh_list_read(json, length, NULL, &desk->list, &mistakes);
    if (status == NH_OK)
        status = nh_workspace_new(desk->list, NULL, &desk->workspace);
    if (status != NH_OK) {
        say_mistakes(mistakes, status);
        nh_mistakes_free(mistakes);
        close_desk(desk);
        return NULL;
    }
    size_t size = nh_list_size(desk->list);
    desk->rows = allocate(size * sizeof *desk->rows);
    desk->choices = allocate(NH_PASSES_MAX * sizeof *desk->choices);
    desk->away = allocate(size);
    desk->chosen = allocate(size);
    return desk;
}

EXPORT("nearhand_close") void nearhand_close(struct desk *desk) {
    close_desk(desk);
}

/* ----------------------------------------------------------- questions --- */

static const struct {
    const char *name;
    answerer *answer;
} answerers[] = {
    {"list", answer_list},       {"rank", answer_rank},   {"pass", answer_pass},
    {"discard", answer_discard}, {"claim", answer_claim}, {"check", answer_check},
    {"read", answer_read},       {"audit", answer_audit}, {"deal", answer_deal},
    {"tiles", answer_tiles},
};

static answerer *find_answerer(const cJSON *question) {
    const char *name = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(question, "ask"));
    for (size_t i = 0; name != NULL && i < COUNT_OF(answerers); i++)
        if (strcmp(answerers[i].name, name) == 0)
            return answerers[i].answer;
    return NULL;
}

/* Answers a question, JSON text of `length` bytes: an object whose "ask" names what is
 * asked. The answer, or {"error": {"text", "column"}}, is what nearhand_answer says
 * too. */
EXPORT("nearhand_ask")
const char *nearhand_ask(struct desk *desk, const char *json, size_t length) {
    cJSON *question = cJSON_ParseWithLength(json, length);
    struct asked asked = {.desk = desk, .question = question};
    answerer *found = find_answerer(question);
    restart_answer(&answer);
    open_object(&answer, NULL);
    add_whole(&answer, "format", 1);
    bool answered = found != NULL ? found(&asked, &answer)
                                  : asked_refuse(&asked, "\"ask\" names none of the questions");
    cJSON_Delete(question);
    if (answered)
        close_object(&answer);
    else
        say_error(&asked.error);
    finish_answer(&answer);
    return answer.text;
}
