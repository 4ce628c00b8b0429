#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

// Many defaults share a source: each source once, in the order of the case, with its entries below.
void write_defaults(Page& page, const Weighing& w, bool decided) {
  std::vector<std::string> sources;
  for (const Weighing::DefaultRow& row : w.defaults) {
    if (row.decided != decided || std::find(sources.begin(), sources.end(), row.source) != sources.end())
      continue;
    sources.push_back(row.source);
  }
  for (const std::string& source : sources) {
    page.paragraph(fmt::format("From: {}", source), false, 2, 2);
    for (const Weighing::DefaultRow& row : w.defaults) {
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
  bool decided = false;
  bool others = false;
  for (const Weighing::DefaultRow& row : w.defaults) (row.decided ? decided : others) = true;
  if (decided) {
    page.heading("Defaults that matter here: state them in the case if you know better");
    write_defaults(page, w, true);
  }
  if (others) {
    page.heading(decided ? "Other defaults used" : "Defaults used; none of them decides anything here");
    write_defaults(page, w, false);
  }
}

void notes_section(Page& page, const Weighing& w) {
  if (w.notes.empty()) return;
  page.heading("Notes");
  for (const std::string& note : w.notes) page.item(note);
}

}  // namespace mendworth
