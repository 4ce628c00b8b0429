#include "render/json_support.hpp"

namespace mendworth {

const char* name_of(VerdictKind kind) {
  switch (kind) {
    case VerdictKind::repair: return "repair";
    case VerdictKind::replace: return "replace";
    case VerdictKind::leave: return "leave";
    case VerdictKind::keep: return "keep";
    case VerdictKind::price_unknown: return "price_unknown";
    case VerdictKind::refer: return "refer";
  }
  return "";
}

const char* name_of(Confidence confidence) {
  switch (confidence) {
    case Confidence::clear: return "clear";
    case Confidence::leaning: return "leaning";
    case Confidence::toss_up: return "toss_up";
  }
  return "";
}

template <>
Shape<Change>::Shape() : MemberTable("change") {
  has({
      {"key", &R::key},
      {"from", &R::from, "as a case writes it; empty: a list, or not stated"},
      {"to", &R::to},
  });
}

template <>
Shape<Beside<WholeAnswer>>::Shape() : MemberTable("beside") {
  has({
      {"name", &R::name, "of the what-if, or the other file"},
      {"changes", &R::changes, "of the case; none: another case"},
      {"answer", &R::answer, "a whole document of this schema, as the changed case has it alone"},
  });
}

}  // namespace mendworth
