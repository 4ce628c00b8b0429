#pragma once

#include <string>
#include <vector>

#include "mendworth/case.hpp"

namespace mendworth {

/// An answer that stands beside that to a case: of one of its what-ifs, or of another case.
template <class Answer>
struct Beside {
  std::string name;             ///< of the what-if, or of the other case's file
  std::vector<Change> changes;  ///< of the case; empty: another case
  Answer answer;                ///< what the same command says of it
};

/// In the order of the case, then of the files.
template <class Answer>
using BesideList = std::vector<Beside<Answer>>;

/// An answer with what stands beside it.
template <class Answer>
struct Compared {
  Answer answer;                ///< to the case as it is
  BesideList<Answer> beside{};  ///< may be empty
};

}  // namespace mendworth
