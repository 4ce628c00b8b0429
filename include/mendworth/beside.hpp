#pragma once

#include <string>
#include <vector>

#include "mendworth/case.hpp"

namespace mendworth {

/// An answer that stands beside that to a case: of one of its what-ifs, or of another case.
template <class Answer>
struct Beside {
  std::string name;
  std::vector<Change> changes;  ///< of the case; empty: another case
  Answer answer;
};

template <class Answer>
using BesideList = std::vector<Beside<Answer>>;

/// An answer with what stands beside it.
template <class Answer>
struct Compared {
  Answer answer;
  BesideList<Answer> beside{};
};

}  // namespace mendworth
