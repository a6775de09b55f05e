// SPDX-License-Identifier: MIT
// Where the words come from that a place of the command line may take. What cannot be read offers nothing.
#pragma once

#include "program/offers.hpp"

namespace curdwright::program::offered {

Offers files(const Request& r, std::string_view current);
Offers folders(const Request& r, std::string_view current);

// Records, of --data too.
Offers legumes(const Request& r, std::string_view current);
Offers blenders(const Request& r, std::string_view current);
Offers strainers(const Request& r, std::string_view current);
Offers shown_ids(const Request& r, std::string_view current);
Offers sold(const Request& r, std::string_view current);

// Tables of the library.
Offers responses(const Request& r, std::string_view current);
Offers responses_list(const Request& r, std::string_view current);
Offers measures(const Request& r, std::string_view current);
Offers sights(const Request& r, std::string_view current);
Offers without(const Request& r, std::string_view current);
Offers settings(const Request& r, std::string_view current);

// The diary.
Offers verbs(const Request& r, std::string_view current);
Offers batches(const Request& r, std::string_view current);
Offers batches_and_pieces(const Request& r, std::string_view current);
Offers pieces(const Request& r, std::string_view current);
Offers diary_words(const Request& r, std::string_view current);
Offers scales(const Request& r, std::string_view current);
Offers piece_words(const Request& r, std::string_view current);
Offers leftovers(const Request& r, std::string_view current);

// Words of commands.
Offers lists(const Request& r, std::string_view current);
Offers showable(const Request& r, std::string_view current);
Offers starters(const Request& r, std::string_view current);
Offers schemas(const Request& r, std::string_view current);
Offers topics(const Request& r, std::string_view current);
Offers shells(const Request& r, std::string_view current);
Offers rankable(const Request& r, std::string_view current);

}  // namespace curdwright::program::offered
