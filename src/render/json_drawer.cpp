#include <string>

#include "mendworth/render.hpp"
#include "render/answer_words.hpp"
#include "render/json_support.hpp"

namespace mendworth {

namespace {

Json entry_json(const DrawerEntry& entry, std::size_t own_columns) {
  Json own = Json::array();
  for (std::size_t i = 0; i < own_columns; ++i)
    own.push_back(i < entry.own.size() ? entry.own[i] : std::string());
  return {{"candidate", entry.candidate},
          {"pieces", entry.pieces},
          {"since", entry.since ? Json(date_text(*entry.since)) : Json(nullptr)},
          {"note", entry.note},
          {"own", own}};
}

}  // namespace

std::string drawer_json(const Drawer& drawer) {
  const std::vector<std::string> columns = own_columns(drawer);
  Json entries = Json::array();
  long long total = 0;
  for (const DrawerEntry& entry : drawer.entries) {
    entries.push_back(entry_json(entry, columns.size()));
    total += entry.pieces;
  }
  const Json out = {{"schema", "mendworth.drawer"}, {"version", 1},
                    {"program_version", version()}, {"source_name", drawer.source_name},
                    {"own_columns", columns},       {"entries", entries},
                    {"total_pieces", total}};
  return out.text();
}

}  // namespace mendworth
