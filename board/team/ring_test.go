package team_test
import ("testing";"fmt";"mendline/board";"mendline/board/team")
func TestRing(t *testing.T){
 load,_:=team.Read(folder(t),loadID(t))
 load.Fights[0].After=load.Fights[3].ID; load.Fights[0].If=board.Won
 id:=loadID(t)
 _,r:=board.Apply(board.State{},load,board.Ask{ID:id},board.Actor{Role:board.RoleCaptain},id.Moment())
 fmt.Println("ring refused?",r)
 for _,e:=range func() []team.RowError { f:=folder(t); replace(t,f,"crew.csv","mechanical; drive","mechanicla; drive"); replace(t,f,"stations.csv","jobs_at_once","jobs at one"); replace(t,f,"robots.csv",",113.4,",`,"113,4",`); replace(t,f,"packs.csv","lipo,4,","lipo,40,"); _,errs:=team.Read(f,id); return errs}() { fmt.Println(e.Error()) }
}
