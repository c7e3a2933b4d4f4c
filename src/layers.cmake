add_layer(units
  SOURCES length.cc number.cc time.cc
  HEADERS length.h number.h time.h
  NEEDS fmt::fmt)
add_layer(diag
  SOURCES diagnostic.cc words.cc
  HEADERS diagnostic.h words.h
  NEEDS fmt::fmt)
add_layer(drawing
  SOURCES attach_words.cc cards.cc cautions.cc content_picture.cc cutting_template.cc fold_marks.cc fold_moment.cc
    fold_picture.cc fold_plan.cc fold_section.cc home_card.cc iron_trial.cc labels.cc
    lay_picture.cc leak_picture.cc leak_sheet.cc leak_words.cc nested.cc overview.cc panel_words.cc part_marks.cc scene.cc
    schedule_chart.cc sheet.cc small_pictures.cc step_icons.cc step_list.cc step_words.cc
    steps.cc strips.cc supplies_list.cc text_page.cc operation_words.cc work_words.cc
    construction_page.cc construction_words.cc
  HEADERS attach_words.h cards.h cautions.h content_picture.h cutting_template.h fold_marks.h fold_moment.h
    fold_picture.h fold_plan.h fold_section.h home_card.h iron_trial.h labels.h lay_picture.h
    leak_picture.h leak_sheet.h leak_words.h nested.h overview.h panel_words.h part_marks.h scene.h schedule_chart.h sheet.h
    small_pictures.h step_facts.h step_icons.h step_list.h step_words.h steps.h strips.h
    supplies_list.h text_page.h operation_words.h work_words.h
    construction_page.h construction_words.h
  USES units diag pouch lay batch)
add_layer(render
  SOURCES finish.cc fonts.cc ink.cc pdf.cc png.cc svg.cc text.cc
  HEADERS finish.h fonts.h ink.h pdf.h png.h svg.h text.h
  USES units diag drawing paper
  NEEDS PkgConfig::CAIRO PkgConfig::PANGO PkgConfig::QPDF)
add_layer(pouch
  SOURCES cards.cc construction.cc construction_check.cc contacts.cc content.cc fill.cc fixing.cc folded.cc
    pouch.cc pressing.cc run.cc run_state.cc seams.cc sizes.cc turning.cc water.cc wrap.cc
  HEADERS capacity.h cards.h construction.h contacts.h content.h fill.h fixing.h folded.h pouch.h pressing.h
    request.h run.h run_state.h seams.h sizes.h turning.h water.h wrap.h
  USES units diag)
add_layer(lay
  SOURCES bound.cc faults.cc five_block.cc joined.cc one_kind.cc orders.cc part.cc plan.cc plate.cc
    several.cc table.cc whole.cc
  HEADERS joined.h lay.h orders.h part.h settings.h solvers.h table.h whole.h
  USES units diag)
add_layer(batch
  SOURCES sampling.cc savings.cc schedule.cc schedule_bound.cc schedule_dispatch.cc schedule_work.cc
    supplies.cc thread.cc
  HEADERS sampling.h savings.h schedule.h schedule_dispatch.h schedule_work.h settings.h supplies.h
    thread.h
  USES units diag pouch lay)
add_layer(paper
  SOURCES board.cc furniture.cc guide.cc ink.cc joins.cc notes.cc pages.cc plan.cc squares.cc
    test_page.cc
  HEADERS board.h furniture.h guide.h ink.h joins.h notes.h pages.h plan.h squares.h test_page.h
  USES units diag drawing)
add_layer(input
  SOURCES construction.cc construction_parts.cc data.cc job.cc node.cc prices.cc reader.cc stitches.cc work.cc
  HEADERS construction_parts.h data.h job.h node.h prices.h reader.h stitches.h work.h
  USES units diag pouch lay batch drawing paper
  NEEDS tomlplusplus::tomlplusplus)
add_layer(job
  SOURCES cloth_plans.cc content_report.cc data.cc documents.cc files.cc job.cc lay.cc list.cc
    new_job.cc packet.cc parts_report.cc range.cc report.cc run.cc saved_job.cc savings.cc
    schedule.cc sheets.cc sides.cc size.cc starter.cc step_facts.cc steps.cc supplies.cc
    text_table.cc
    construction_list.cc
  HEADERS cloth_plans.h commands.h content_report.h data.h documents.h files.h job.h new_job.h
    parts_report.h report.h run.h saved_job.h schedule.h sheets.h sides.h starter.h step_facts.h
    supplies.h text_table.h
    construction_list.h
  USES units diag pouch lay batch drawing paper input render)
target_link_libraries(pouchwright_job PUBLIC nlohmann_json::nlohmann_json)
target_compile_definitions(pouchwright_job
  PRIVATE POUCHWRIGHT_SOURCE_FOLDER="${CMAKE_SOURCE_DIR}")
add_layer(desk
  SOURCES answer.cc desk.cc page.cc server.cc site.cc target.cc workers.cc zip.cc
  HEADERS answer.h assets.h desk.h page.h server.h site.h target.h workers.h zip.h
  USES units diag job
  NEEDS Boost::headers Threads::Threads PkgConfig::LIBZIP)
add_texts(pouchwright_desk desk/page desk.css desk.html desk.mjs icon.svg job.mjs lengths.mjs
  numbers.mjs words.mjs)

add_layer(cli
  SOURCES arguments.cc manual.cc terminal.cc
  HEADERS arguments.h manual.h terminal.h
  USES units diag job desk
  NEEDS CLI11::CLI11)
target_compile_definitions(pouchwright_cli PRIVATE POUCHWRIGHT_VERSION="${PROJECT_VERSION}")

add_executable(pouchwright cli/main.cc)
target_link_libraries(pouchwright PRIVATE options warnings pouchwright_cli)

# The manual page and the completion are made from the same words as --help.
add_executable(pouchwright_manual cli/manual_main.cc)
target_link_libraries(pouchwright_manual PRIVATE options warnings pouchwright_cli)
target_compile_definitions(pouchwright_manual PRIVATE POUCHWRIGHT_VERSION="${PROJECT_VERSION}")
