#include <vector>

#include "mendworth/knowing.hpp"
#include "render/json_support.hpp"

namespace mendworth {

static const char* name_of(FoundOut who) {
  switch (who) {
    case FoundOut::nobody: return "nobody";
    case FoundOut::owner: return "owner";
    case FoundOut::look: return "look";
    case FoundOut::asking: return "asking";
    case FoundOut::record: return "record";
  }
  return "";
}

template <>
Shape<KnowingRow>::Shape() : MemberTable("knowing_input", "One uncertain number.") {
  has({
      {"key", &R::key,
       "case key; fit.PART: which candidates of the part fit; luck: all that is left when every number "
       "is known"},
      {"label", &R::label, "in words, with the unit"},
      {"found_out_by", &R::found_out,
       "who can tell before ordering: its owner; who looks inside and measures; who asks suppliers and "
       "shops; a shop's own record"},
      {"first_order_share", &R::first,
       "by how much the variance of the saving falls on average when this is known", at_least(0)},
      {"first_order_error_share", &R::first_error, "one standard error", at_least(0)},
      {"total_share", &R::total, "what is left of the variance when all else is known", at_least(0)},
      {"total_error_share", &R::total_error, "one standard error", at_least(0)},
      {"worth_amount", &R::worth,
       "expected value of perfect information about it, before the best option is chosen", at_least(0)},
      {"worth_error_amount", &R::worth_error, "one standard error"},
      {"is_worth_something", [](const R& row) { return row.is_worth_something(); },
       "more than two standard errors"},
  });
}

template <>
Shape<KnowingGroup>::Shape() : MemberTable("knowing_group", "Numbers that are known together.") {
  has({
      {"name", &R::name, "by who can tell; before-ordering: the first three; all",
       one_of({"owner", "look", "asking", "before-ordering", "record", "all"})},
      {"keys", &R::keys, "of the numbers"},
      {"worth_amount", &R::worth, "expected value of perfect information about all of them", at_least(0)},
      {"worth_error_amount", &R::worth_error, "one standard error"},
      {"is_worth_something", [](const R& group) { return group.is_worth_something(); },
       "more than two standard errors"},
  });
}

template <>
Shape<Knowing>::Shape()
    : MemberTable(
          "knowing",
          "What uncertain numbers bring to the variance of the saving, and what knowing them is worth.") {
  has({
      {"futures", &R::futures, "behind first-order shares and worths", at_least(2)},
      {"total_futures", &R::total_futures, "behind total shares, and those of luck", at_least(2)},
      {"saving_deviation_amount", &R::deviation, "standard deviation of the saving over the futures",
       at_least(0)},
      {"inputs", &R::inputs, "worth most first; luck last"},
      {"groups", &R::groups, "several numbers known together"},
      {"foresight_amount", &R::foresight, "if luck were known as well: no information is worth more",
       at_least(0)},
      {"foresight_error_amount", &R::foresight_error, "one standard error"},
  });
}

template <>
Shape<SavingGrid::Axis>::Shape() : MemberTable("grid_axis", "One of the two numbers.") {
  has({
      {"key", &R::key, "case key"},
      {"label", &R::label, "in words, with the unit"},
      {"current_value", &R::current, "in the case; the mean of a range"},
      {"values", &R::values, "rising"},
  });
}

template <>
Shape<SavingGrid::Piece>::Shape() : MemberTable("zero_line", "A piece of it between grid lines.") {
  has({
      {"across_from", &R::across_from, "value of that number"},
      {"down_from", &R::down_from, "value of that number"},
      {"across_to", &R::across_to, "value of that number"},
      {"down_to", &R::down_to, "value of that number"},
  });
}

namespace {

/// One number of each point, row by row.
std::vector<std::vector<double>> over(const SavingGrid& grid, double SavingGrid::Point::*member) {
  std::vector<std::vector<double>> out;
  for (const auto& row : grid.rows) {
    auto& numbers = out.emplace_back();
    for (const SavingGrid::Point& point : row) numbers.push_back(point.*member);
  }
  return out;
}

}  // namespace

template <>
Shape<SavingGrid>::Shape() : MemberTable("against", "The saving by repair over two numbers.") {
  has({
      {"across", &R::across},
      {"down", &R::down},
      {"saving_amount", [](const R& grid) { return over(grid, &SavingGrid::Point::saving); },
       "a row for each value down, a number for each value across"},
      {"saving_error_amount", [](const R& grid) { return over(grid, &SavingGrid::Point::error); },
       "one standard error of each"},
      {"zero_line", &R::zero_line, "where the saving is nought, by linear interpolation; in no order"},
  });
}

}  // namespace mendworth
