#include <string>
#include <vector>

#include "mendworth/render.hpp"
#include "render/json_shape.hpp"

namespace mendworth {

namespace {

/// An entry with a text for each of the user's own columns.
struct FilledEntry : DrawerEntry {
  FilledEntry(const DrawerEntry& entry, std::size_t own_columns) : DrawerEntry(entry) {
    own.resize(own_columns);
  }
};

std::vector<FilledEntry> filled(const Drawer& drawer) {
  std::vector<FilledEntry> entries;
  for (const DrawerEntry& entry : drawer.entries) entries.emplace_back(entry, own_columns(drawer).size());
  return entries;
}

long long all_pieces(const Drawer& drawer) {
  long long total = 0;
  for (const DrawerEntry& entry : drawer.entries) total += entry.pieces;
  return total;
}

}  // namespace

template <>
Shape<FilledEntry>::Shape() : MemberTable("entry") {
  has({
      {"candidate", &R::candidate,
       "the name of the candidate as a case gives it, or of the part where the part has offers of its own"},
      {"pieces", &R::pieces, "", between(0, most_drawer_pieces)},
      {"since", &R::since, "when the pieces came into the drawer; null: not known"},
      {"note", &R::note, "may be empty"},
      {"own", &R::own, "what the row says in own_columns, one text for each"},
  });
}

template <>
Shape<Drawer>::Shape() {
  has({
      {"source_name", &R::source_name, "the drawer's file"},
      {"own_columns", [](const R& drawer) { return own_columns(drawer); },
       "names of the columns that are the user's own, in the order of the file"},
      {"entries", [](const R& drawer) { return filled(drawer); },
       "in the order of the file; a name may stand there more than once"},
      {"total_pieces", [](const R& drawer) { return all_pieces(drawer); }, "of all entries"},
  });
}

constexpr AnswerOf<Drawer> drawer_form{
    {.schema = "mendworth.drawer",
     .version = 1,
     .meaning = "What 'mendworth drawer FILE --format json' prints: the spare parts on "
                "hand. null is what is not known."}};

std::string drawer_json(const Drawer& drawer) { return drawer_form.json(drawer).text(); }

const std::string& drawer_schema() { return drawer_form.json_schema(); }

}  // namespace mendworth
