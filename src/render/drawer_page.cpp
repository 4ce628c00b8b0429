#include <fmt/format.h>

#include <algorithm>
#include <set>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_own_columns = 2;  // more leave the notes no room

// With the first `most` of the user's own columns.
Table listing(const Drawer& drawer, std::size_t most) {
  std::vector<std::string> own = own_columns(drawer);
  own.resize(std::min(own.size(), most));
  const bool notes =
      std::ranges::any_of(drawer.entries, [](const DrawerEntry& entry) { return !entry.note.empty(); });
  Table table{.columns = {{"candidate", false}, {"pieces"}, {"since", false, true}}, .name = "drawer"};
  for (const std::string& name : own) table.columns.push_back({name, false});
  if (notes) table.columns.push_back({"note", false});
  for (const DrawerEntry& entry : drawer.entries) {
    std::vector<std::string> cells{entry.candidate, fmt::format("{}", entry.pieces),
                                   entry.since ? date_text(*entry.since) : "-"};
    for (std::size_t i = 0; i < own.size(); ++i) cells.push_back(i < entry.own.size() ? entry.own[i] : "");
    if (notes) cells.push_back(entry.note);
    table.add(cells);
  }
  return table;
}

Section pieces_section(const Drawer& drawer) {
  Section section;
  section.add(listing(drawer, own_columns(drawer).size()));
  return section;
}

constexpr SectionOf<Drawer> drawer_table[] = {{"pieces", pieces_section}};

std::string contents(const Drawer& drawer) {
  if (drawer.entries.empty()) return "the drawer is empty.";
  std::set<std::string> names;
  long long total = 0;
  for (const DrawerEntry& entry : drawer.entries) {
    names.insert(entry.candidate);
    total += entry.pieces;
  }
  return fmt::format("{} under {}.", count_text(total, "piece", "pieces"),
                     count_text(static_cast<long long>(names.size()), "name", "names"));
}

}  // namespace

const std::vector<std::string>& drawer_sections() { return section_names<drawer_table>(); }

std::string drawer_page(const Drawer& drawer, const PageStyle& style) {
  Document page = answer_document("Spare parts on hand: " + drawer.source_name);
  page.opening.emplace_back(Paragraph{fmt::format("{}: {}", drawer.source_name, contents(drawer)), true});
  page.sections = sections_of(drawer, drawer_table);
  const std::vector<std::string> own = own_columns(drawer);
  if (own.size() > most_own_columns && style.is_usual_text()) {
    Section section;
    section.add(listing(drawer, most_own_columns));
    section.say(fmt::format("Columns not shown: {}; --show all has them.",
                            fmt::join(own.begin() + most_own_columns, own.end(), ", ")));
    page.sections.front() = section;
  }
  return page_of(std::move(page), style);
}

}  // namespace mendworth
