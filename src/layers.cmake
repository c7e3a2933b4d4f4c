# The layers, from the bottom up.

add_layer(base
  FILES
    diagnostic
    length
    letter
    message
    number
    number_read
    plurals
    reading
    text
    time
    voice
    words
  HEADERS
    named
    turn
  NEEDS fmt::fmt utf8cpp)

add_layer(pouch
  FILES
    construction
    pouch
    questions
    fold/contacts
    fold/fixing
    fold/folded
    fold/moment
    fold/mouth
    fold/pressing
    fold/run
    fold/run_state
    fold/seams
    fold/turning
    judge/cards
    judge/content
    judge/fill
    judge/remnant
    judge/fold_marks
    judge/own_card
    judge/remedies
    judge/run_checks
    judge/size_checks
    judge/sizes
    judge/upright
    judge/water
    judge/wrap
  HEADERS
    request
    judge/capacity
  USES base)

add_layer(lay
  FILES
    orders
    spare
    solve/columns
    solve/combined
    solve/cover
    solve/generation
    solve/joined
    solve/part
    solve/slices
    solve/table
    solve/tidy
    solve/whole
  HEADERS
    lay
    settings
    solve/fixed
    solve/solvers
  SOURCES
    faults
    plan
    solve/bound
    solve/five_block
    solve/one_kind
    solve/plate
    solve/several
  USES base)

add_layer(batch
  FILES
    record/bundles
    record/findings
    record/statistics
    sampling
    savings
    supplies
    thread
    work/assignment
    work/balance
    work/clips
    work/crew
    work/dispatch
    work/elements
    work/joined
    work/kept
    work/orders
    work/people
    work/plan
    work/post_loads
    work/post_plans
    work/held_up
    work/post_covers
    work/post_pool
    work/posts
    work/preparations
    work/skills
    work/steps
    work/stretches
  HEADERS
    record/record
    settings
    trial
    work/breaks
  SOURCES
    record/people
    work/bound
  USES base pouch lay
  NEEDS Boost::headers)

add_layer(ink
  FILES
    arrows
    box_grid
    canvas
    code_square
    flow
    frame
    icons
    labels
    mirrored
    path_data
    scene
    sentences
    table
  USES base)

add_layer(tell
  FILES
    attachments
    capacity
    changes
    construction
    cut_plan
    fill
    folding
    leak_test
    names
    operations
    post_cards
    record
    seams
    step_list
    steps
    supplies
    upright
    work
  HEADERS
    said
    step_facts
  USES base pouch lay batch)

add_layer(draw
  FILES
    folds/cut_through
    folds/from_above
    folds/hands
    folds/marks
    folds/part_names
    folds/picture
    folds/side_icons
    folds/step_icons
    folds/turning_marks
    full_size/card_marks
    full_size/cards
    full_size/cards_words
    full_size/gauge
    full_size/nested
    full_size/part_marks
    full_size/sole
    full_size/template
    full_size/top_bar
    full_size/template_lines
    full_size/template_words
    sheets/bar_chart
    sheets/cautions
    sheets/content
    sheets/cut_plan
    sheets/cut_plan_figures
    sheets/cut_plan_lines
    sheets/cut_plan_rows
    sheets/home_card
    sheets/iron_trial
    sheets/job_code
    sheets/leak_boxes
    sheets/leak_picture
    sheets/leak_test
    sheets/day_overview
    sheets/first_pouch
    sheets/overview
    sheets/post_cards
    sheets/record_form
    sheets/scenes
    sheets/steps
    sheets/steps_layout
    sheets/test_scenes
    sheets/trial_table
    sheets/work_plan
    sheets/work_plan_heading
    views/curl
    views/depth_order
    views/faces
    views/finished
    views/fitted
    views/folding
    views/motion
    views/on_view
    views/panel_faces
    views/places
    views/pose
    views/space
    views/view
  HEADERS
    with_ink
  USES base pouch lay batch tell ink)

add_layer(paper
  FILES
    board
    furniture
    guide
    ink
    joins
    notes
    pages
    plan
    squares
    test_page
  USES base ink)

add_layer(input
  FILES
    added_operations
    construction_names
    construction_operations
    construction_panels
    construction_parts
    csv
    data
    day
    fields
    group
    group_file
    helpers
    icons
    job
    layers
    likely
    materials
    node
    pouch_table
    prices
    reader
    record
    sewing
    stitches
    things
    value_places
    words_check
    work
  HEADERS
    packet
  SOURCES
    construction
  USES base pouch lay batch ink paper
  NEEDS tomlplusplus::tomlplusplus)

# Letters are set by Pango, and in a browser, where there is none, by what Pango itself stands on. The tests
# hold one to the other, so that the program has both.
set(set_by glyphs_pango)
if(EMSCRIPTEN)
  set(set_by "")
endif()
add_layer(render
  FILES
    code
    finish
    fonts
    glyphs
    ink
    pdf
    pinned
    png
    svg
    tags
    text
  SOURCES
    glyphs_harfbuzz
    ${set_by}
  USES base ink paper
  NEEDS ${cairo_libraries} ${letter_libraries} ${qpdf_libraries} ${code_libraries})
if(EMSCRIPTEN)
  target_compile_definitions(pouchwright_render PRIVATE POUCHWRIGHT_TYPESETTER=harfbuzz_typesetter)
else()
  target_compile_definitions(pouchwright_render PRIVATE POUCHWRIGHT_TYPESETTER=pango_typesetter)
endif()

add_layer(job
  FILES
    command_table
    data
    day
    documents
    files
    job
    limits
    run
    sheets
    step_facts
    told_fields
    upright
    commands/cloth_plans
    commands/job_code
    commands/new
    commands/new_day
    commands/packet_sections
    commands/printing
    commands/quick_lay
    commands/record
    commands/schedule
    commands/shown
    commands/supplies
    job_text/carried
    job_text/day_text
    job_text/edited
    job_text/sides
    job_text/starter
    report/construction
    report/documents
    report/page
    report/parts
    report/print
  HEADERS
    commands/commands
    report/report
    report/reports
  SOURCES
    commands/answered
    commands/day_packet
    commands/asker
    commands/day_questions
    commands/explain
    commands/have
    commands/interview
    commands/size_questions
    commands/unlikely
    commands/words
    commands/lay
    commands/list
    commands/packet
    commands/packet_numbers
    commands/range
    commands/record_charts
    commands/recorded_texts
    commands/savings
    commands/size
    commands/steps
    report/content
    report/lay
    report/lists
    report/record
    report/savings
    report/schedule
    report/size
    report/supplies
  USES base pouch lay batch tell ink draw paper input render
  NEEDS ZLIB::ZLIB)
target_link_libraries(pouchwright_job PUBLIC nlohmann_json::nlohmann_json)
target_compile_definitions(pouchwright_job
  PRIVATE POUCHWRIGHT_SOURCE_FOLDER="$<IF:$<BOOL:${EMSCRIPTEN}>,/program,${CMAKE_SOURCE_DIR}>")

# In a browser nothing is served and no module opened.
set(with_server desk server workers zip)
if(EMSCRIPTEN)
  set(with_server "")
endif()
add_layer(desk
  FILES
    answer
    call
    edit
    gzip
    page
    site
    target
    ${with_server}
  HEADERS
    assets
    zip_module
  USES base input job
  NEEDS Boost::headers Threads::Threads ZLIB::ZLIB ${CMAKE_DL_LIBS})
add_texts(pouchwright_desk desk/page
  begin.js desk.css desk.html icon.svg rooms.css
  ask.mjs carried.mjs codes.mjs faults.mjs fields.mjs job.mjs later.mjs link.mjs main.mjs picture.mjs pieces.mjs
  pouches.mjs send.mjs start.mjs store.mjs tongue.mjs trail.mjs units.mjs words.mjs
  cloth.mjs compare.mjs day.mjs day_text.mjs dialogue.mjs folding.mjs hands.mjs helpers.mjs people.mjs places.mjs plans.mjs printing.mjs records.mjs reports.mjs sizes.mjs square.mjs tables.mjs thumbnails.mjs ways.mjs
  measure-card.svg measure-cloth.svg measure-liners.svg measure-panel.svg measure-pouch.svg)

if(EMSCRIPTEN)
add_layer(web
  FILES
    ask
  SOURCES
    zip
  USES base job desk)
  include(web/file.cmake)
  return()
endif()

# Opened where an archive is wanted (see zip_module.h): from the build, or installed beside the program.
add_library(pouchwright_zip MODULE desk/zip_module.cc)
set_target_properties(pouchwright_zip PROPERTIES PREFIX "" OUTPUT_NAME pouchwright-zip)
target_link_libraries(pouchwright_zip PRIVATE options warnings PkgConfig::LIBZIP)
add_dependencies(pouchwright_desk pouchwright_zip)
file(RELATIVE_PATH module_from_program ${CMAKE_INSTALL_FULL_BINDIR} ${CMAKE_INSTALL_FULL_LIBDIR}/pouchwright)
target_compile_definitions(pouchwright_desk PRIVATE
  POUCHWRIGHT_ZIP_FROM_PROGRAM="${module_from_program}/pouchwright-zip.so"
  POUCHWRIGHT_ZIP_BUILT="$<TARGET_FILE:pouchwright_zip>")

add_layer(cli
  FILES
    arguments
    manual
    terminal
    told
  USES base job desk
  NEEDS CLI11::CLI11)
target_compile_definitions(pouchwright_cli PRIVATE POUCHWRIGHT_VERSION="${PROJECT_VERSION}")

add_executable(pouchwright cli/main.cc)
target_link_libraries(pouchwright PRIVATE options warnings pouchwright_cli)
# Each symbol that a library binds is looked for in all of them in this order, fifty in all: first
# stand those that most are found in.
target_link_options(pouchwright PRIVATE
  $<$<CONFIG:Release>:LINKER:--push-state,--no-as-needed,-lc,-lstdc++,-lqpdf,-lglib-2.0,--pop-state>)
