#pragma once

#include <string>
#include <vector>

#include "mendworth/past_use.hpp"
#include "numeric/count_fit.hpp"

/// What a record of past use says of one part.
namespace mendworth {

struct UsedMonths {
  Date from, to;                ///< both included
  std::vector<Watched> months;  ///< of the calendar, with the share of each that is covered
};

/// Month by month from the record's first day to its last, which are those of the whole record, whatever part they are
/// about; months without use are there with none. Where the first or the last day has pieces, its whole month is taken: a
/// record that begins with the first use would else seem too busy. An empty `part` takes all rows. Throws InputError if no
/// row is about the part, or nothing was used, or fewer than two months are covered.
[[nodiscard]] UsedMonths months_of(const PastUse& use, const std::string& part);

}  // namespace mendworth
