#include <fmt/format.h>

#include <string>

#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

void write_default(Page& page, const Weighing::DefaultRow& row) {
  page.paragraph(fmt::format("{} = {} ({})", row.key, row.value, row.source), false, 2, 4);
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
    for (const Weighing::DefaultRow& row : w.defaults) {
      if (row.decided) write_default(page, row);
    }
  }
  if (others) {
    page.heading(decided ? "Other defaults used" : "Defaults used; none of them decides anything here");
    for (const Weighing::DefaultRow& row : w.defaults) {
      if (!row.decided) write_default(page, row);
    }
  }
}

void notes_section(Page& page, const Weighing& w) {
  if (w.notes.empty()) return;
  page.heading("Notes");
  for (const std::string& note : w.notes) page.item(note);
}

}  // namespace mendworth
