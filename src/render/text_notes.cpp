#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

// What only one's own work on the device asks for; where that is ruled out, it plays no part. The labour rate does:
// setting up a replacement is own work too.
bool is_for_own_hands(const std::string& key) {
  if (key == "labour.rate_per_hour") return false;
  if (key.starts_with("labour.") || key.starts_with("risk.") || key.starts_with("supplier.")) return true;
  if (key.starts_with("position.")) {
    return key.ends_with(".termination") || key.ends_with(".minutes") || key.ends_with(".joints");
  }
  return key.starts_with("part.") &&
         (key.find(".candidate.") != std::string::npos || key.ends_with(".shelf_life_years"));
}

std::vector<Weighing::DefaultRow> defaults_in_play(const Weighing& w) {
  std::vector<Weighing::DefaultRow> rows;
  for (const Weighing::DefaultRow& row : w.defaults) {
    if (w.verdict.kind != VerdictKind::refer || !is_for_own_hands(row.key)) rows.push_back(row);
  }
  return rows;
}

// Many defaults share a source: each source once, in the order of the case, with its entries below.
void write_defaults(Page& page, const std::vector<Weighing::DefaultRow>& rows, bool decided) {
  std::vector<std::string> sources;
  for (const Weighing::DefaultRow& row : rows) {
    if (row.decided != decided || std::find(sources.begin(), sources.end(), row.source) != sources.end())
      continue;
    sources.push_back(row.source);
  }
  for (const std::string& source : sources) {
    page.paragraph(fmt::format("From: {}", source), false, 2, 2);
    for (const Weighing::DefaultRow& row : rows) {
      if (row.decided != decided || row.source != source) continue;
      page.paragraph(fmt::format("{} = {}", row.key, row.value), false, 4, 2);
    }
  }
}

}  // namespace

void cautions_section(Page& page, const Weighing& w) {
  if (w.cautions.empty()) return;
  page.heading("Cautions");
  for (const Weighing::Caution& caution : w.cautions) {
    std::string text = caution.title + (caution.licensed_only ? " (for licensed people only):" : ":");
    for (const std::string& sentence : caution.sentences) text += " " + sentence;
    page.item(text);
  }
}

void defaults_section(Page& page, const Weighing& w) {
  const std::vector<Weighing::DefaultRow> rows = defaults_in_play(w);
  bool decided = false;
  bool others = false;
  for (const Weighing::DefaultRow& row : rows) (row.decided ? decided : others) = true;
  if (decided) {
    page.heading("Defaults that matter here: state them in the case if you know better");
    write_defaults(page, rows, true);
  }
  if (others) {
    page.heading(decided ? "Other defaults used" : "Defaults used; none of them decides anything here");
    write_defaults(page, rows, false);
  }
}

void notes_section(Page& page, const Weighing& w) {
  if (w.notes.empty()) return;
  page.heading("Notes");
  for (const std::string& note : w.notes) page.item(note);
}

}  // namespace mendworth
