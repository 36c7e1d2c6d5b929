// Embedding nearhand in C++17: owners free what the library hands out, and
// errors become exceptions. Prints the nearest pattern of a hand and the best
// pass of three tiles.
//
//     c++ -std=c++17 embed.cpp $(pkg-config --cflags --libs nearhand) -o embed
//     ./embed LIST.json "2468B 246C 33D EEW R Wh"
#include <nearhand.h>

#include <exception>
#include <iostream>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>

namespace {

struct Free {
    void operator()(nh_list *list) const {
        nh_list_free(list);
    }
    void operator()(nh_workspace *workspace) const {
        nh_workspace_free(workspace);
    }
    void operator()(nh_mistakes *mistakes) const {
        nh_mistakes_free(mistakes);
    }
};

template <class Owned>
using Owner = std::unique_ptr<Owned, Free>;

Owner<nh_list> load(const std::string &path) {
    nh_list *list = nullptr;
    nh_mistakes *reported = nullptr;
    nh_status status = nh_list_load(path.c_str(), nullptr, &list, &reported);
    Owner<nh_mistakes> mistakes(reported);
    if (nh_mistakes_size(mistakes.get()) > 0)
        throw std::runtime_error(nh_mistakes_at(mistakes.get(), 0)->text);
    if (status != NH_OK)
        throw std::runtime_error(nh_status_text(status));
    return Owner<nh_list>(list);
}

std::string format(const nh_tiles &tiles) {
    std::string text(NH_TILES_TEXT_SIZE, '\0');
    text.resize(nh_tiles_format(&tiles, NH_STYLE_LETTERS, text.data(), text.size()));
    return text;
}

// A list and scratch memory for it, for one thread. Members are destroyed in
// the reverse of this order: the workspace goes before its list.
class Adviser {
  public:
    explicit Adviser(const std::string &path) : list(load(path)) {
        nh_workspace *made = nullptr;
        if (nh_status status = nh_workspace_new(list.get(), nullptr, &made); status != NH_OK)
            throw std::runtime_error(nh_status_text(status));
        workspace.reset(made);
    }

    nh_tiles read(std::string_view text) const {
        nh_tiles hand;
        nh_error error;
        if (nh_hand_parse(list.get(), text.data(), text.size(), &hand, &error) != NH_OK)
            throw std::runtime_error(error.text);
        return hand;
    }

    nh_ranked nearest(const nh_tiles &hand) {
        nh_ranked row;
        nh_ranking ranking;
        nh_error error;
        nh_rank_question question = NH_RANK_QUESTION;
        question.situation = &situation;
        if (nh_rank(workspace.get(), &hand, &question, &row, 1, &ranking, &error) != NH_OK)
            throw std::runtime_error(error.text);
        if (ranking.rows == 0)
            throw std::runtime_error("no pattern can be made any more");
        return row;
    }

    nh_choice best_pass(const nh_tiles &hand, int tiles) {
        nh_choice choice;
        nh_passing passing;
        nh_error error;
        nh_pass_question question = NH_PASS_QUESTION;
        question.situation = &situation;
        question.tiles = tiles;
        if (nh_pass(workspace.get(), &hand, &question, &choice, 1, &passing, &error) != NH_OK)
            throw std::runtime_error(error.text);
        return choice;
    }

    std::string name(const nh_ranked &row) const {
        return nh_list_pattern(list.get(), row.pattern)->name;
    }

  private:
    Owner<nh_list> list;
    Owner<nh_workspace> workspace;
    nh_situation situation = NH_SITUATION;
};

void advise(const std::string &path, const std::string &text) {
    Adviser adviser(path);
    const nh_tiles hand = adviser.read(text);
    const nh_ranked row = adviser.nearest(hand);
    std::cout << adviser.name(row) << ": " << int(row.away) << " away, needs " << format(row.need)
              << "\n"
              << "pass " << format(adviser.best_pass(hand, 3).pass) << "\n";
}

} // namespace

int main(int argc, char **argv) {
    if (argc != 3) {
        std::cerr << "usage: embed LIST.json HAND\n";
        return 1;
    }
    try {
        advise(argv[1], argv[2]);
    } catch (const std::exception &error) {
        std::cerr << error.what() << "\n";
        return 1;
    }
    return 0;
}
