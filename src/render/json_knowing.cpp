#include "render/json_knowing.hpp"

#include "render/json_support.hpp"

namespace mendworth {

namespace {

const char* word_of(FoundOut who) {
  switch (who) {
    case FoundOut::owner: return "owner";
    case FoundOut::look: return "look";
    case FoundOut::asking: return "asking";
    case FoundOut::record: return "record";
    case FoundOut::nobody: break;
  }
  return "nobody";
}

Json knowing_row_json(const KnowingRow& row) {
  return {{"key", row.key},
          {"label", row.label},
          {"found_out_by", word_of(row.found_out)},
          {"first_order_share", number(row.first)},
          {"first_order_error_share", number(row.first_error)},
          {"total_share", number(row.total)},
          {"total_error_share", number(row.total_error)},
          {"worth_amount", number(row.worth)},
          {"worth_error_amount", number(row.worth_error)},
          {"is_worth_something", row.is_worth_something()}};
}

Json knowing_group_json(const KnowingGroup& group) {
  return {{"name", group.name},
          {"keys", group.keys},
          {"worth_amount", number(group.worth)},
          {"worth_error_amount", number(group.worth_error)},
          {"is_worth_something", group.is_worth_something()}};
}

Json axis_json(const SavingGrid::Axis& axis) {
  Json values = Json::array();
  for (const double value : axis.values) values.push_back(number(value));
  return {
      {"key", axis.key}, {"label", axis.label}, {"current_value", number(axis.current)}, {"values", values}};
}

Json piece_json(const SavingGrid::Piece& piece) {
  return {{"across_from", number(piece.across_from)},
          {"down_from", number(piece.down_from)},
          {"across_to", number(piece.across_to)},
          {"down_to", number(piece.down_to)}};
}

}  // namespace

Json knowing_json(const Knowing& knowing) {
  return {{"futures", knowing.futures},
          {"total_futures", knowing.total_futures},
          {"saving_deviation_amount", number(knowing.deviation)},
          {"inputs", list(knowing.inputs, knowing_row_json)},
          {"groups", list(knowing.groups, knowing_group_json)},
          {"foresight_amount", number(knowing.foresight)},
          {"foresight_error_amount", number(knowing.foresight_error)}};
}

Json saving_grid_json(const SavingGrid& grid) {
  Json savings = Json::array(), errors = Json::array();
  for (const auto& row : grid.rows) {
    Json saving = Json::array(), error = Json::array();
    for (const SavingGrid::Point& point : row) {
      saving.push_back(number(point.saving));
      error.push_back(number(point.error));
    }
    savings.push_back(std::move(saving));
    errors.push_back(std::move(error));
  }
  return {{"across", axis_json(grid.across)},
          {"down", axis_json(grid.down)},
          {"saving_amount", savings},
          {"saving_error_amount", errors},
          {"zero_line", list(grid.zero_line, piece_json)}};
}

}  // namespace mendworth
